// Every screen of a visit at each size of screen and of text: nothing runs out of its box, to the side, or gets too small
// to touch. Accessibility and contrast do not depend on the size and are looked at elsewhere.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Stage, key } from "./harness.mjs";

const sizes = { desk: { width: 1280, height: 800 }, tablet: { width: 820, height: 1180 }, wide: { width: 1920, height: 1080 } };

test("Every screen fits 820, 1280 and 1920 px and text of 200 %; 200 visits make no endless start page", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await page.click(key("new-16"));
  await page.waitForSelector(".looks");
  const id = /\d+/.exec(new URL(page.url()).hash)[0];
  const said = (method, path, body) => page.evaluate(([how, where, what]) => fetch(where, { method: how, headers: { "Content-Type": "application/json" }, body: JSON.stringify(what) }).then((reply) => reply.status), [method, path, body]);
  for (const [method, path, body] of [
    ["PUT", "looks/before/holds", { chart: "iso: hold 16/46 17/47 26/36; slide 15/45; open 14/44; untestable 18/48" }],
    ["PUT", "looks/before/marks", { chart: "iso: centric 16 CF+* MP- 26 CF; working 16 MB/in" }],
    ["PUT", "looks/after/holds", { chart: "iso: hold 17/47 26/36 15/45; slide 16/46; open 14/44" }],
    ["PUT", "looks/after/marks", { chart: "iso: centric 16 CF* DB+~ 26 CF+; working 16 MB/in; non-working 47 DB/in-" }],
    ["POST", "patient", { numb: true }],
  ]) assert.equal(await said(method, `/api/visits/${id}/${path}`, body), 200, path);

  const screens = {
    start: ["#/", ".new-visit"],
    visit: [`#/visit/${id}`, ".looks"],
    film: [`#/visit/${id}/film/after`, ".pairs"],
    marks: [`#/visit/${id}/marks/after/centric/16`, ".pad .marked"],
    record: [`#/visit/${id}/record/after`, ".outcome"],
    details: [`#/visit/${id}/details`, "#label"],
    sign: [`#/visit/${id}/sign`, ".read-charts"],
    learn: ["#/learn", key("chart-8")],
    chart: ["#/learn/chart/1", ".opened-tooth"],
  };
  for (const [name, [hash, ready]] of Object.entries(screens)) {
    await page.setViewportSize(sizes.desk);
    await page.evaluate((to) => (location.hash = to), hash);
    await page.waitForSelector(ready);
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport);
      await stage.fits(page, `${name}-${size}`);
      await stage.shot(page, `${name}-${size}`);
    }
    await page.setViewportSize(sizes.desk);
    await page.evaluate(() => (document.documentElement.dataset.text = "200"));
    await stage.fits(page, `${name}-text-200`);
    await stage.shot(page, `${name}-text-200`);
    await page.evaluate(() => (document.documentElement.dataset.text = "100"));
  }

  // How a check is done stands where it is done, with its reason.
  const how = async (hash, step) => {
    await page.evaluate((to) => (location.hash = to), hash);
    await page.click(key(`how-${step}`));
    return page.textContent("details.how[open]");
  };
  assert.match(await how(`#/visit/${id}/film/after`, "chart_holds"), /holds when the pull is resisted.*drag is no contact for certain/s);
  assert.match(await how(`#/visit/${id}/marks/after/centric/16`, "chart_centric"), /Dry the teeth.*thin paper.*centric first.*grease/s);
  assert.match(await how(`#/visit/${id}/marks/after/working/16`, "mark_eccentric"), /another colour.*mark centric again.*treated tooth by itself.*talk to your supervisor/s);

  const opened = await page.evaluate(async () => {
    const statuses = new Set();
    for (let i = 0; i < 200; ++i) statuses.add((await fetch("/api/visits", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ numbering: "iso", teeth: [26] }) })).status);
    return [...statuses];
  });
  assert.deepEqual(opened, [200]);
  await page.evaluate(() => (location.hash = "#/"));
  await page.waitForSelector(".visit-line");
  await stage.fits(page, "start-200-visits");
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  assert.ok(height < 4 * sizes.desk.height, `200 visits make a page of ${height} px`);
  stage.check();
});
