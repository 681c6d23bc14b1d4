/** One question to the server and its answer; whatever else comes back is told apart from an answer. */

import { type Answer, type Request, readAnswer } from "./wire";

export type Heard =
  | { is: "answer"; answer: Answer }
  /** the server says in its own form that it will not take this request as it is */
  | { is: "refused"; problem: string }
  /** no network, a captive portal, a proxy's page, a broken answer, an error: try again later */
  | { is: "nothing" };

const PATIENCE_MS = 30_000;
const TOO_MUCH = 20_000_000; // no answer to 500 changes comes near it

function isOf(response: Response, type: string): boolean {
  return (response.headers.get("content-type") ?? "").split(";")[0]?.trim() === type;
}

async function problemOf(response: Response): Promise<string> {
  try {
    const body: unknown = await response.json();
    if (typeof body !== "object" || body === null) return "";
    const { title, detail } = body as { title?: unknown; detail?: unknown };
    return [title, detail].filter((part) => typeof part === "string").join(". ");
  } catch {
    return "";
  }
}

export async function ask(request: Request, fetcher: typeof fetch = fetch): Promise<Heard> {
  try {
    const response = await fetcher("/api/exchange", {
      method: "POST",
      headers: { "content-type": "application/json", accept: "application/json" },
      body: JSON.stringify(request),
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if ([400, 413, 422].includes(response.status) && isOf(response, "application/problem+json")) {
      return { is: "refused", problem: await problemOf(response) };
    }
    if (response.status !== 200 || !isOf(response, "application/json")) return { is: "nothing" };
    const body = await response.text();
    if (body.length > TOO_MUCH) return { is: "nothing" };
    const answer = readAnswer(JSON.parse(body));
    return answer && isFor(request, answer) ? { is: "answer", answer } : { is: "nothing" };
  } catch {
    return { is: "nothing" };
  }
}

/** Another logbook is believed only where it says that it was restored, or where none was known. */
function isFor(request: Request, answer: Answer): boolean {
  if (answer.restored) return request.logbook !== null && answer.logbook !== request.logbook;
  return request.logbook === null || answer.logbook === request.logbook;
}
