// Talks to the server this page came from, and to nothing else.

/** The server refused or failed; the message is for people. */
export class ServerError extends Error {
  constructor(
    readonly status: number,
    message: string,
  ) {
    super(message);
  }
}

/** The server did not answer at all. */
export class ServerGone extends Error {}

/** What the server says without the sentences that name a command: who stands at the chair has no command line. */
export function withoutCommands(text: string): string {
  const kept = text
    .trim()
    .split(/(?<=[.!?])\s+/)
    .filter((sentence) => !/\bretap [a-z]+\b/.test(sentence));
  return kept.join(" ");
}

async function ask(path: string, init: RequestInit): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, { ...init, credentials: "same-origin", redirect: "error" });
  } catch {
    throw new ServerGone("Retap does not answer.");
  }
  if (!response.ok) {
    const text = response.headers.get("content-type")?.startsWith("text/plain") ? await response.text() : "";
    throw new ServerError(response.status, withoutCommands(text) || "Retap refused this.");
  }
  return response;
}

export const getJson = async <T>(path: string): Promise<T> => (await (await ask(path, {})).json()) as T;
export const getText = async (path: string): Promise<string> => (await ask(path, {})).text();

export async function send<T>(method: "POST" | "PUT" | "DELETE", path: string, body: unknown = {}): Promise<T> {
  const init = { method, body: JSON.stringify(body), headers: { "Content-Type": "application/json" } };
  return (await (await ask(path, init)).json()) as T;
}

export async function upload<T>(path: string, file: File): Promise<T> {
  const init = { method: "POST", body: file, headers: { "Content-Type": "application/octet-stream" } };
  return (await (await ask(path, init)).json()) as T;
}
