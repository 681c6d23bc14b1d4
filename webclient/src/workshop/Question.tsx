/** The one way anything is asked: the question, its two sides drawn, what happens meanwhile, and in the edge what harms nothing. */
import type { ComponentChildren } from "preact";
import { type Next, Page } from "./Page";
import { Scribed } from "./Scribed";
import * as words from "./words";

export interface Side {
  label: ComponentChildren;
  sub?: ComponentChildren;
  drawing?: ComponentChildren;
  onTake: () => void;
}

export function Question(p: {
  title: string;
  sub?: ComponentChildren;
  sides: readonly Side[];
  meanwhile?: ComponentChildren;
  next: Next;
}) {
  return (
    <Page title={words.aQuestion} sub={p.sub} next={p.next}>
      <h2 class="question-title">{p.title}</h2>
      <QuestionSides sides={p.sides} />
      {p.meanwhile != null && <p class="question-meanwhile">{p.meanwhile}</p>}
    </Page>
  );
}

/** The two sides alone, for a question asked within a screen. */
export function QuestionSides(p: { sides: readonly Side[] }) {
  return (
    <div class="question-sides">
      {p.sides.map((side, i) => (
        <Scribed key={i} wide label={side.label} sub={side.sub} drawing={side.drawing} onTake={side.onTake} />
      ))}
    </div>
  );
}
