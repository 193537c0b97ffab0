// Contrast of every word and every sign, in both themes, before and after signing. The accessibility checker leaves out
// what is disabled; a signed chart is, and is read all the same.
import assert from "node:assert/strict";
import { test } from "node:test";
import { faint } from "./contrast.mjs";
import { Stage, key } from "./harness.mjs";

test("Every word and sign of the charts and the visit stands out, in both themes, unsigned and signed", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await page.click(key("new-16"));
  await page.waitForSelector(".looks");
  const id = /\d+/.exec(new URL(page.url()).hash)[0];
  const ask = (method, path, body) => page.evaluate(([how, where, what]) => fetch(where, { method: how, headers: { "Content-Type": "application/json" }, body: JSON.stringify(what) }).then((reply) => reply.status), [method, `/api/visits/${id}/${path}`, body]);
  const said = async (method, path, body) => assert.equal(await ask(method, path, body), 200, path);
  await said("PUT", "looks/before/holds", { chart: "iso: hold 16/46 17/47 26/36; slide 15/45; open 14/44; untestable 18/48" });
  await said("PUT", "looks/before/marks", { chart: "iso: centric 16 CF+* MP- 26 CF; working 16 MB/in" });
  await said("PUT", "looks/after/holds", { chart: "iso: hold 17/47 26/36 15/45; slide 16/46; open 14/44" });
  await said("PUT", "looks/after/marks", { chart: "iso: centric 16 CF* DB+~ 26 CF+; working 16 MB/in; non-working 47 DB/in-; protrusive 14 B/dis" });
  await said("POST", "patient", { numb: true });
  await said("POST", "decision", { action: "wait" });

  const look = async (name, hash, ready) => {
    await page.evaluate((to) => (location.hash = to), hash);
    await page.waitForSelector(ready);
    for (const colorScheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme });
      assert.deepEqual(await page.evaluate(faint, { disabledToo: true }), [], `${name}, ${colorScheme}`);
    }
  };
  const screens = async (state) => {
    await look(`film, ${state}`, `#/visit/${id}/film/after`, ".pairs");
    await look(`marks, ${state}`, `#/visit/${id}/marks/after/centric/16`, ".pad .marked");
    await look(`movements, ${state}`, `#/visit/${id}/marks/after/working/16`, ".pad .marked");
    await look(`visit, ${state}`, `#/visit/${id}`, ".looks");
  };
  await screens("unsigned");
  await look("reading", `#/visit/${id}/sign`, ".read-charts .plot-teeth");
  await said("POST", "sign", { name: "Supervisor 4", role: "supervisor" });
  await screens("signed");
  await page.waitForSelector(".signed");
  await stage.inspect(page, "charts-signed");
  stage.check();
});
