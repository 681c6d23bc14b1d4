/** One question to the server and its answer; whatever else comes back is told apart from an answer. */

import { type Answer, type Request, readAnswer } from "./wire";

export type Heard =
  | { is: "answer"; answer: Answer }
  /** the server says in its own form that it will not take this request as it is */
  | { is: "refused"; problem: string }
  /** this device may not come in */
  | { is: "shut"; why: "not_paired" | "withdrawn" }
  /** no network, a captive portal, a proxy's page, a broken answer, an error: try again later */
  | { is: "nothing" };

const PATIENCE_MS = 30_000;
const TOO_MUCH = 20_000_000; // no answer to 500 changes comes near it

function isOf(response: Response, type: string): boolean {
  return (response.headers.get("content-type") ?? "").split(";")[0]?.trim() === type;
}

interface Problem {
  title?: unknown;
  detail?: unknown;
  code?: unknown;
}

async function problemOf(response: Response): Promise<Problem> {
  try {
    const body: unknown = await response.json();
    return typeof body === "object" && body !== null ? body : {};
  } catch {
    return {};
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
    if ([400, 403, 413, 422].includes(response.status) && isOf(response, "application/problem+json")) {
      const { title, detail, code } = await problemOf(response);
      if (response.status === 403)
        return code === "not_paired" || code === "withdrawn" ? { is: "shut", why: code } : { is: "nothing" };
      return {
        is: "refused",
        problem: [title, detail].filter((part) => typeof part === "string").join(". "),
      };
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
