/** How do the records leave this phone, and how do they come in? Tables for a spreadsheet; one file that comes back word for word. */

import { useRef, useState } from "preact/hooks";
import { Page, Scribed } from "../workshop";
import { Part, toRecords } from "./Opened";
import { type Brought, bringIn, canShare, isEmpty, save, share, type TextFile } from "./state";
import { TABLES, type TableName } from "./tables";
import * as words from "./words";

export interface CopiesProps {
  /** The table's text and how many lines it has, header apart. */
  table: (name: TableName) => string;
  whole: () => TextFile;
  seal: () => string;
}

const asFile = (name: TableName, text: string): TextFile => ({
  name: `easelside-${name}.csv`,
  type: "text/csv;charset=utf-8",
  text,
});

export function Copies(p: CopiesProps) {
  const empty = isEmpty();
  const [told, setTold] = useState<string | null>(null);
  const [brought, setBrought] = useState<Brought | null>(null);
  const picker = useRef<HTMLInputElement>(null);
  const sharing = canShare();
  const out = async (file: TextFile, by: "file" | "sheet"): Promise<void> => {
    if (by === "sheet") {
      if (!(await share(file))) return;
    } else save(file);
    setTold(by === "file" ? words.saved(file.name) : null);
  };
  const take = async (file: File | undefined): Promise<void> => {
    if (file) setBrought(await bringIn(await file.text()));
  };
  return (
    <Page
      title={words.copies}
      sub={words.copiesSub}
      next={
        empty || brought?.done
          ? toRecords
          : { label: words.saveWhole, sub: words.whole, onTake: () => void out(p.whole(), "file") }
      }
    >
      <p role="status" class="records-told">
        {told}
      </p>
      {!empty && (
        <Part title={words.whole}>
          <p class="records-quiet">{words.wholeSub}</p>
          <p>
            <strong>{words.seal(p.seal())}</strong>: {words.sealSub}
          </p>
          {sharing && (
            <Scribed wide label={words.share} sub={words.whole} onTake={() => void out(p.whole(), "sheet")} />
          )}
        </Part>
      )}
      {!empty && (
        <Part title={words.tables}>
          <p class="records-quiet">{words.tablesSub}</p>
          <div class="records-files">
            {TABLES.map((name) => (
              <div key={name} class="records-file">
                <Scribed
                  wide
                  label={words.table(name)}
                  sub={`easelside-${name}.csv`}
                  onTake={() => void out(asFile(name, p.table(name)), "file")}
                />
                {sharing && (
                  <Scribed
                    label={words.share}
                    name={`${words.share}: ${words.table(name)}`}
                    onTake={() => void out(asFile(name, p.table(name)), "sheet")}
                  />
                )}
              </div>
            ))}
          </div>
        </Part>
      )}
      <Part title={words.bringIn}>
        <p class="records-quiet">{words.bringInSub}</p>
        {!brought && !empty && <p>{words.full}</p>}
        {empty && !brought?.done && (
          <>
            <input
              ref={picker}
              hidden
              type="file"
              accept=".json,application/json"
              onChange={(e) => void take(e.currentTarget.files?.[0])}
            />
            <Scribed
              wide
              label={words.chooseFile}
              sub={words.bringInSub}
              onTake={() => picker.current?.click()}
            />
          </>
        )}
        {brought !== null && (
          <p role="status" class={brought.done ? undefined : "alarm"}>
            {brought.done
              ? `${words.brought(brought.records)} ${words.seal(brought.state)}: ${words.sealSub}.`
              : words.notBrought[brought.why]}
          </p>
        )}
      </Part>
      {!empty && !brought?.done && (
        <Scribed wide label={words.back} sub={words.backSub} onTake={toRecords.onTake} />
      )}
    </Page>
  );
}
