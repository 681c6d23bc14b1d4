/** Records as points, what was fitted as lines, what is usual as a band: plain SVG in the workshop's own lines. */
import { number } from "../../language/format";
import { type Axis, along, ticksOf } from "./axis";

type At = readonly [x: number, y: number];

export type Mark =
  | { is: "points"; at: readonly At[]; shape?: "dot" | "ring" | "cross"; isRed?: boolean }
  | { is: "line"; at: readonly At[]; isDashed?: boolean; isSteps?: boolean; isThin?: boolean }
  | { is: "band"; at: readonly (readonly [x: number, low: number, high: number])[] }
  | { is: "level"; y: number; label: string; isRed?: boolean }
  | { is: "upright"; x: number; label: string };

const [LEFT, RIGHT, TOP, LOW] = [46, 12, 30, 50];
const SIZE = 16;

interface Sheet {
  wide: number;
  high: number;
  /** of the axis along */
  ticks: number;
}

/** So small that its letters can be read on a phone that leans against the jar; wider where there is room, letters as before. */
const sheetFor = (screen: number): Sheet =>
  screen < LAPTOP ? { wide: 420, high: 300, ticks: 4 } : { wide: 720, high: 340, ticks: 7 };
const LAPTOP = 1000;

/** `name`: heard in place of the drawing; the figures stand in the table beside it. */
export function Plot(p: { name: string; x: Axis; y: Axis; marks: readonly Mark[] }) {
  const sheet = sheetFor(typeof window === "undefined" ? 0 : window.innerWidth);
  const { wide, high } = sheet;
  const x = (value: number) => LEFT + clamp(along(p.x, value)) * (wide - LEFT - RIGHT);
  const y = (value: number) => high - LOW - clamp(along(p.y, value)) * (high - LOW - TOP);
  return (
    <svg
      viewBox={`0 0 ${wide} ${high}`}
      role="img"
      aria-label={p.name}
      style={`width:100%;max-width:${(wide * 1.1) / SIZE}rem`}
    >
      {ticksOf(p.y).map((tick) => (
        <g key={tick}>
          <line x1={LEFT} x2={wide - RIGHT} y1={y(tick)} y2={y(tick)} stroke="var(--rule-marks)" />
          <text x={LEFT - 8} y={y(tick) + 6} text-anchor="end" font-size={SIZE} fill="var(--ink)">
            {(p.y.say ?? number)(tick)}
          </text>
        </g>
      ))}
      {ticksOf(p.x, sheet.ticks).map((tick) => (
        <g key={tick}>
          <line x1={x(tick)} x2={x(tick)} y1={high - LOW} y2={high - LOW + 6} stroke="var(--ink)" />
          <text x={x(tick)} y={high - LOW + 24} text-anchor="middle" font-size={SIZE} fill="var(--ink)">
            {(p.x.say ?? number)(tick)}
          </text>
        </g>
      ))}
      {p.marks.map((mark, i) => (
        <Drawn key={i} mark={mark} x={x} y={y} sheet={sheet} />
      ))}
      <path
        d={`M${LEFT} ${TOP}V${high - LOW}H${wide - RIGHT}`}
        fill="none"
        stroke="var(--ink)"
        stroke-width="2"
      />
      <text x={wide - RIGHT} y={high - 6} text-anchor="end" font-size={SIZE} fill="var(--pencil)">
        {p.x.label}
      </text>
      <text x={2} y={15} font-size={SIZE} fill="var(--pencil)">
        {p.y.label}
      </text>
    </svg>
  );
}

const clamp = (part: number): number => Math.min(1, Math.max(0, part));

function Drawn(p: { mark: Mark; x: (n: number) => number; y: (n: number) => number; sheet: Sheet }) {
  const { mark, x, y } = p;
  const { wide, high } = p.sheet;
  switch (mark.is) {
    case "points":
      return (
        <path
          d={mark.at.map(([at, value]) => SHAPES[mark.shape ?? "dot"](x(at), y(value))).join("")}
          fill={mark.shape === "ring" || mark.shape === "cross" ? "none" : ink(mark.isRed)}
          stroke={ink(mark.isRed)}
          stroke-width="2"
        />
      );
    case "line":
      return (
        <path
          d={lineOf(
            mark.at.map(([at, value]): At => [x(at), y(value)]),
            mark.isSteps === true,
          )}
          fill="none"
          stroke="var(--ink)"
          stroke-width={mark.isThin ? 1.5 : 3}
          stroke-dasharray={mark.isDashed ? "8 6" : undefined}
        />
      );
    case "band":
      return (
        <path
          d={`${lineOf(
            mark.at.map(([at, low]): At => [x(at), y(low)]),
            false,
          )}L${mark.at
            .toReversed()
            .map(([at, , high]) => `${x(at)} ${y(high)}`)
            .join("L")}Z`}
          fill="var(--usual)"
          stroke="var(--usual-line)"
        />
      );
    case "level":
      return (
        <g>
          <line
            x1={LEFT}
            x2={wide - RIGHT}
            y1={y(mark.y)}
            y2={y(mark.y)}
            stroke={ink(mark.isRed)}
            stroke-width="2"
            stroke-dasharray="8 6"
          />
          <text x={wide - RIGHT} y={y(mark.y) - 5} text-anchor="end" font-size={SIZE} fill={ink(mark.isRed)}>
            {mark.label}
          </text>
        </g>
      );
    case "upright":
      return (
        <g>
          <line
            x1={x(mark.x)}
            x2={x(mark.x)}
            y1={TOP}
            y2={high - LOW}
            stroke="var(--ink)"
            stroke-width="2"
            stroke-dasharray="8 6"
          />
          <text
            x={x(mark.x) + (x(mark.x) > wide / 2 ? -6 : 6)}
            y={TOP + 14}
            text-anchor={x(mark.x) > wide / 2 ? "end" : "start"}
            font-size={SIZE}
            fill="var(--ink)"
          >
            {mark.label}
          </text>
        </g>
      );
  }
}

const ink = (isRed: boolean | undefined): string => (isRed ? "var(--red)" : "var(--ink)");

const SHAPES = {
  dot: (x: number, y: number) => `M${x - 3} ${y}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0`,
  ring: (x: number, y: number) => `M${x - 5} ${y}a5 5 0 1 0 10 0a5 5 0 1 0 -10 0`,
  cross: (x: number, y: number) => `M${x - 5} ${y - 5}l10 10m0 -10l-10 10`,
};

function lineOf(at: readonly At[], isSteps: boolean): string {
  return at.map(([x, y], i) => (i === 0 ? `M${x} ${y}` : isSteps ? `H${x}V${y}` : `L${x} ${y}`)).join("");
}
