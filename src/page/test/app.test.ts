import assert from "node:assert/strict";
import { test } from "node:test";
import { App } from "../ts/app";

test("An old answer that comes late does not replace a newer one: a recording that has ended does not go on", async () => {
  const listening = { program: "Retap", numbering: "iso", readOnly: null, recording: { visit: "1", look: "before" } };
  const answers = [
    new Promise((late) => setTimeout(() => late(listening), 20)), // asked while the take was still recorded
    Promise.resolve({ ...listening, recording: null }),
  ];
  const asked: string[] = [];
  const fetched = globalThis.fetch;
  globalThis.fetch = (async (path: string) => {
    asked.push(path);
    const body = path === "/api/state" ? await answers.shift() : { toSign: [], toRecheck: [], today: [] };
    return new Response(JSON.stringify(body), { headers: { "content-type": "application/json" } });
  }) as typeof fetch;
  try {
    const app = new App(() => undefined);
    await Promise.all([app.refresh(), app.refresh()]);
    assert.equal(app.live, null);
    assert.deepEqual(asked, ["/api/state", "/api/worklist", "/api/state", "/api/worklist"]);
  } finally {
    globalThis.fetch = fetched;
  }
});
