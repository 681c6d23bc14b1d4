/** Pieces that lie together: as many as the words say. */
import { type CaneFacts, CaneStrip } from "./Cane";
import { Sheet, type Titled } from "./line";
import { drawn, hand, round1 } from "./wobble";

/** `bottom`: y of the lowest strip's lower side. Strips stand in columns of at most `tall`. */
export function PileStrips(
  p: CaneFacts & {
    n: number;
    x: number;
    bottom: number;
    w: number;
    room: number;
    tall?: number | undefined;
    seed?: number | undefined;
    loose?: number | undefined;
  },
) {
  const n = drawn(p.n);
  const columns = Math.max(1, Math.ceil(n / (p.tall ?? 8)));
  const rows = Math.ceil(n / columns);
  const gap = 6;
  const w = (p.w - gap * (columns - 1)) / columns;
  const h = Math.min(w / 7, p.room / Math.max(1, rows));
  const step = rows > 1 ? Math.min(h * 0.8, (p.room - h) / (rows - 1)) : 0;
  const pen = hand((p.seed ?? 3) + n);
  const loose = p.loose ?? Math.min(5, w / 48);
  return (
    <>
      {Array.from({ length: n }, (_, i) => {
        const column = Math.floor(i / rows);
        const row = Math.min(rows, n - column * rows) - 1 - (i % rows);
        const x = p.x + column * (w + gap) + pen.about(loose);
        const y = p.bottom - h - row * step;
        return (
          <g
            key={i}
            class="piece"
            transform={`rotate(${round1(pen.about(loose / 4))} ${round1(x + w / 2)} ${round1(y)})`}
          >
            <CaneStrip
              x={round1(x)}
              y={round1(y)}
              w={round1(w)}
              h={round1(h)}
              seed={i + 1}
              wet={p.wet}
              left={p.left}
              right={p.right}
              scored={p.scored}
            />
          </g>
        );
      })}
    </>
  );
}

export function Pile(
  p: CaneFacts &
    Titled & {
      n: number;
      width?: number | string | undefined;
      height?: number | undefined;
      tall?: number | undefined;
    },
) {
  const h = p.height ?? 80;
  return (
    <Sheet w={116} h={h} width={p.width ?? 96} title={p.title}>
      <PileStrips
        {...p}
        x={6}
        bottom={h - 4}
        w={104}
        room={h - 10}
        tall={p.tall ?? Math.max(6, Math.ceil(drawn(p.n) / 2))}
        loose={0.8}
      />
    </Sheet>
  );
}
