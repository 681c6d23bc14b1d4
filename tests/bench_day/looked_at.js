/* What stands on a screen and is not as it should be? Run in the page; gives one sentence a fault. */
(look) => {
  const faults = [];
  const say = (what, element) => {
    const words = (element.getAttribute("aria-label") || element.textContent || "").trim().slice(0, 40);
    faults.push(`${what}: <${element.tagName.toLowerCase()} class="${element.getAttribute("class") || ""}"> ${words}`);
  };

  // Relative luminance and contrast ratio: https://www.w3.org/TR/WCAG22/#dfn-relative-luminance
  // L = 0.2126 R + 0.7152 G + 0.0722 B; each of them c / 12.92 where c <= 0.04045, else ((c + 0.055) / 1.055) ** 2.4
  const linear = (byte) => {
    const c = byte / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  const luminance = ([r, g, b]) => 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  // https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio: (L1 + 0.05) / (L2 + 0.05)
  const contrast = (a, b) => {
    const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (light + 0.05) / (dark + 0.05);
  };

  const canvas = Object.assign(document.createElement("canvas"), { width: 1, height: 1 });
  const brush = canvas.getContext("2d", { willReadFrequently: true });
  const rgba = (colour) => {
    brush.clearRect(0, 0, 1, 1);
    brush.fillStyle = colour;
    brush.fillRect(0, 0, 1, 1);
    const [r, g, b, a] = brush.getImageData(0, 0, 1, 1).data;
    return [r, g, b, a / 255];
  };
  const over = ([r, g, b, a], under) => [r, g, b].map((c, i) => c * a + under[i] * (1 - a));

  /* The fill of an SVG shape counts as a background where text is drawn upon it. */
  const ownGround = (element) => {
    if (element instanceof SVGElement && !(element instanceof SVGSVGElement)) {
      const style = getComputedStyle(element);
      if (element instanceof SVGTextElement || element instanceof SVGTSpanElement || element instanceof SVGGElement) return null;
      if (style.fill === "none" || style.visibility === "hidden") return null;
      if (style.fill.startsWith("url")) return null;
      const [r, g, b, a] = rgba(style.fill);
      return [r, g, b, a * Number(style.fillOpacity) * Number(style.opacity)];
    }
    return rgba(getComputedStyle(element).backgroundColor);
  };
  /* All that lies below a point from the first opaque ground up to the text itself. */
  const groundAt = (x, y, element) => {
    const stack = document.elementsFromPoint(x, y);
    let at = stack.findIndex((each) => each === element || element.contains(each) || each.contains(element));
    if (at < 0) return null;
    const layers = [];
    for (const each of stack.slice(at)) {
      const colour = ownGround(each);
      if (!colour || colour[3] === 0) continue;
      layers.push(colour);
      if (colour[3] === 1) break;
    }
    return layers.reverse().reduce((under, colour) => over(colour, under), rgba(getComputedStyle(document.documentElement).backgroundColor).slice(0, 3));
  };

  const isHeardOnly = (element) => element.closest(".heard") !== null || element.closest("svg[aria-hidden=true] text, [aria-hidden=true] .heard");
  const scope = document.querySelector("dialog[open]") ?? document.body;
  const walker = document.createTreeWalker(scope, NodeFilter.SHOW_TEXT);
  let least = 99;
  let texts = 0;
  const edge = document.querySelector(".edge")?.getBoundingClientRect();
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || !element || isHeardOnly(element) || ["SCRIPT", "STYLE", "TITLE", "DESC", "OPTION"].includes(element.tagName.toUpperCase())) continue;
    if (element.closest("button:disabled")) continue; // https://www.w3.org/TR/WCAG22/#contrast-minimum: inactive parts have no ratio
    const range = document.createRange();
    range.selectNodeContents(node);
    const box = [...range.getClientRects()].find((each) => each.width > 1 && each.height > 1);
    if (!box) continue;
    const style = getComputedStyle(element);
    if (style.visibility === "hidden" || Number(style.opacity) === 0) continue;
    let x = box.left + box.width / 2, y = box.top + box.height / 2;
    if (y < 0 || y > innerHeight || (edge && !element.closest(".edge") && y > edge.top)) {
      element.scrollIntoView({ block: "center" });
      const again = [...range.getClientRects()].find((each) => each.width > 1 && each.height > 1);
      if (!again) continue;
      [x, y] = [again.left + again.width / 2, again.top + again.height / 2];
    }
    if (x < 0 || x > innerWidth) continue;
    const ground = groundAt(x, y, element);
    if (!ground) continue;
    const ink = over(rgba(element instanceof SVGElement ? style.fill : style.color), ground);
    const size = Number.parseFloat(style.fontSize), isBold = Number(style.fontWeight) >= 700;
    // large: 18 pt, or 14 pt and bold (24 and 18.66 CSS px): https://www.w3.org/TR/WCAG22/#dfn-large-scale
    const least_here = size >= 24 || (isBold && size >= 18.66) ? 3 : 4.5;
    const ratio = contrast(ink, ground);
    texts += 1;
    least = Math.min(least, ratio);
    if (ratio < least_here) say(`contrast ${ratio.toFixed(2)} under ${least_here}`, element);
  }
  window.scrollTo(0, 0);

  const root = document.documentElement; // not innerWidth: on a phone it grows with what is wider
  if (root.scrollWidth > root.clientWidth) say(`wider than the screen by ${root.scrollWidth - root.clientWidth}`, root);

  const pressable = [...scope.querySelectorAll("button, a[href], input, select, textarea, summary")].filter((each) => {
    const box = each.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && getComputedStyle(each).visibility !== "hidden" && !each.closest(".heard");
  });
  const inEdge = (each) => each.closest(".edge") !== null;
  for (const each of pressable) {
    const box = each.getBoundingClientRect();
    if (inEdge(each) && box.bottom > innerHeight - 34 + 0.5) say(`in the lowest 34 by ${(box.bottom - innerHeight + 34).toFixed(0)}`, each);
  }
  const big = document.querySelector(".page-big");
  if (big && !look.isLarge && document.documentElement.scrollHeight > innerHeight + 1) say(`the bench scrolls by ${document.documentElement.scrollHeight - innerHeight}`, big);
  const isBench = document.querySelector(".page-bench") !== null;
  if (isBench && !look.isDialog) {
    const boxes = pressable.filter((each) => each.matches("button, a[href]") && !each.closest(".chest-column, .slip, .question-sides, .choice, fieldset")).map((each) => [each, each.getBoundingClientRect()]);
    for (const [each, box] of boxes) if (box.width < 71.5 || box.height < 71.5) say(`${box.width.toFixed(0)} by ${box.height.toFixed(0)}, under 72 by 72`, each);
    for (const [i, [each, a]] of boxes.entries())
      for (const [other, b] of boxes.slice(i + 1)) {
        if (inEdge(each) !== inEdge(other) || each.contains(other) || other.contains(each)) continue;
        const dx = Math.max(a.left - b.right, b.left - a.right), dy = Math.max(a.top - b.bottom, b.top - a.bottom);
        const apart = Math.max(dx, dy);
        // tiles of one question stand 4 to 14 apart; large text takes room from the gaps before anything leaves the screen
        const isTile = each.parentElement === other.parentElement && !each.parentElement.matches(".bench-outcomes, .edge-row");
        const room = isTile || (look.isLarge && !inEdge(each)) ? 4 : 16;
        if (apart < room - 0.5) say(`${apart.toFixed(0)} apart from "${(other.textContent || "").trim().slice(0, 20)}", under ${room}`, each);
      }
  }
  return { faults, least, texts, pressable: pressable.length };
}
