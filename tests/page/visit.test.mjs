import assert from "node:assert/strict";
import fs from "node:fs";
import { test } from "node:test";
import { Stage, key, newVisit, recordHere, recording, toVisit } from "./harness.mjs";

test("A whole visit: baseline in two touches, after in two more, charts, verdict, undo and sign-off", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("after-high-100um.flac")], 2));
  await page.waitForSelector("text=No visit yet today");
  await stage.inspect(page, "visits-empty");

  await newVisit(page); // first touch
  await stage.inspect(page, "visit-new");
  await page.click("[data-main]"); // second touch
  await page.waitForSelector(".slot.heard");
  assert.match(await page.textContent(".listening-line"), /Listening/);
  await stage.inspect(page, "listening");
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  assert.match(await page.textContent(".outcome"), /Kept\. Good take: /);
  await stage.inspect(page, "baseline-kept");

  await page.click(key("on"));
  assert.match(await page.textContent(key("main")), /Record after.*before it, film and marks$/s); // as 'Usually next' says
  assert.match(await page.textContent("[aria-label='Usually next']"), /Complete the baseline before the work starts/);
  await page.click(key("film-before"));
  for (const pair of ["17/47", "16/46", "15/45", "26/36", "27/37"]) await page.click(key(`pair-${pair}`));
  await page.click(key("pair-26/36"));
  assert.match(await page.textContent(key("pair-26/36")), /slide/);
  assert.match(await page.textContent("main [role=status]"), /4 hold, 1 slide, 0 open/);
  await stage.inspect(page, "film");
  await page.click(key("done"));
  await page.waitForSelector("text=Film of before kept.");
  await page.click(key("marks-before"));
  await page.click(key("place-CF"));
  await page.click(key("place-MP"));
  await page.click(key("place-MP"));
  await stage.inspect(page, "marks");
  // What was looked at last is not carried over to the next look: it begins at the treated tooth, in centric.
  await page.click("text=Working");
  await page.click(key("tooth-26"));
  await page.waitForSelector("text=Tooth 26, working");
  await page.click(key("done"));
  await page.waitForSelector("text=2 marks, 1 heavy");
  await stage.inspect(page, "visit-baseline");
  assert.match(await page.textContent(key("main")), /Record after.*When the restoration is in$/s);

  await page.click("[data-main]"); // after: first touch
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  const verdict = await page.textContent(".answer strong");
  assert.match(verdict, /Alike|Different|Unclear/);
  await page.click(key("on")); // second touch
  await page.waitForSelector(".verdict");
  assert.equal((await page.textContent(".verdict-word")).toLowerCase(), verdict.replace(". ", "").toLowerCase());
  await stage.inspect(page, "compare");
  await stage.picture(page, "compare");
  await page.click(key("zoom"));
  await page.waitForSelector(".zoom canvas");
  await page.click("text=Closer");
  await page.waitForFunction(() => /Showing/.test(document.querySelector(".zoom [role=status]")?.textContent ?? ""));
  await stage.inspect(page, "compare-zoomed");

  await toVisit(page);
  await page.click(key("film-after"));
  for (const pair of ["17/47", "16/46"]) await page.click(key(`pair-${pair}`));
  await page.click(key("pair-17/47"));
  await page.click(key("done"));
  await page.waitForSelector("text=What changed");
  await page.click(key("marks-after"));
  await page.waitForSelector("text=Tooth 16, centric");
  await page.click(key("done"));
  await page.click(key("numb-yes"));
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=true]`);
  await stage.inspect(page, "visit-after");
  await stage.picture(page, "visit");

  await page.click(key("undo"));
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=false]`);
  await page.click(key("undo"));
  await page.waitForFunction(() => /Not tested/.test(document.querySelector('[data-key="film-after"]')?.textContent ?? ""));

  await page.click(key("details"));
  await page.fill("#label", "Chair 2, 0417");
  await page.fill("#procedure", "composite");
  await stage.inspect(page, "details");
  await page.click(key("save"));
  await page.waitForSelector("h1:has-text('Chair 2, 0417')");

  await page.click(key("decide-adjust"));
  await page.waitForSelector(`${key("decide-adjust")}[aria-pressed=true]`);
  const [exported] = await Promise.all([page.waitForEvent("download"), page.click(key("export"))]);
  assert.equal(JSON.parse(fs.readFileSync(await exported.path(), "utf8")).label, "Chair 2, 0417");
  const [download] = await Promise.all([page.waitForEvent("download"), page.click(key("report"))]);
  assert.match(download.suggestedFilename(), /\.html$/);
  const report = fs.readFileSync(await download.path(), "utf8");
  assert.match(report, /Visit Chair 2, 0417: composite/); // as the command writes it
  assert.match(report, /Report of \d{4}-\d\d-\d\d \d\d:\d\d UTC/);

  await page.click(key("sign"));
  await page.fill("#name", "Supervisor 4");
  await page.fill("#role", "supervisor");
  await stage.inspect(page, "sign");
  await page.click(key("sign"));
  await page.waitForSelector(".signed");
  assert.match(await page.textContent(".signed"), /Signed by Supervisor 4, supervisor/);
  assert.equal(await page.locator(key("undo")).count(), 0);
  await stage.inspect(page, "visit-signed");

  await page.click("[data-back]");
  await page.waitForSelector(".visit-line");
  assert.match(await page.textContent(".visit-line"), /Chair 2, 0417.*signed/);
  await stage.inspect(page, "visits");
  stage.check();
});

test("On a tablet held upright every screen fits and every target is large enough", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("after-unchanged.flac")]), {
    viewport: { width: 800, height: 1280 },
    hasTouch: true,
  });
  await page.tap(key("new-36"));
  await page.waitForSelector(".looks");
  await page.tap("[data-main]");
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  await page.tap(key("on"));
  await page.waitForSelector(".looks");
  await stage.inspect(page, "tablet-visit");
  await page.tap(key("film-before"));
  await page.tap(key("pair-26/36"));
  await stage.inspect(page, "tablet-film");
  await page.tap(key("done"));
  await page.tap(key("marks-before"));
  await page.tap(key("place-CF"));
  await stage.inspect(page, "tablet-marks");
  await page.tap(key("done"));
  await page.waitForSelector(".looks >> text=1 mark");
  await page.tap("[data-main]");
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  await page.tap(key("on"));
  await page.waitForSelector(".verdict");
  await stage.inspect(page, "tablet-compare");
  await page.tap("[data-back]");
  await page.waitForSelector(".looks");
  await page.tap("[data-back]");
  await page.waitForSelector(".visit-line");
  await stage.inspect(page, "tablet-visits");
  stage.check();
});
