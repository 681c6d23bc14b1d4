/** Why was it moved? One tap, or the maker's own words. */
import { Scribed, TextField } from "../workshop";
import { whys } from "./row_words";
import * as words from "./words";

export function Whys(p: { value: string; onChange: (why: string) => void }) {
  const isOwn = p.value !== "" && !whys.some((why) => why === p.value);
  return (
    <section class="stack" aria-label={words.why}>
      <h2>{words.why}</h2>
      <div class="whys">
        {whys.map((why) => (
          <Scribed
            key={why}
            label={why}
            chosen={p.value === why}
            onTake={() => p.onChange(p.value === why ? "" : why)}
          />
        ))}
      </div>
      <TextField label={words.why_own} value={isOwn ? p.value : ""} onChange={p.onChange} maxLength={300} />
    </section>
  );
}
