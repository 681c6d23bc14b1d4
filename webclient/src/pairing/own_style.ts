/** The style of the phones' screens comes with their script: a bench day does not carry it. */
import style from "./screen.css?inline";

const sheet = new CSSStyleSheet();
sheet.replaceSync(style);
document.adoptedStyleSheets.push(sheet);
