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
  // The one big button is what the rules put first.
  assert.match(await page.textContent(key("main")), /Film, before/);
  await stage.inspect(page, "visit-new");
  await page.click(key("sound-before")); // second touch
  await page.waitForSelector(".slot.heard");
  assert.match(await page.textContent(".listening-line"), /Listening/);
  await stage.inspect(page, "listening");
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  assert.match(await page.textContent(".outcome"), /Kept\. Good take: /);
  await stage.inspect(page, "baseline-kept");

  await page.click(key("on"));
  assert.match(await page.textContent("[aria-label='Usually next']"), /Complete the baseline before the work starts/);
  await page.click(key("main"));
  for (const pair of ["17/47", "16/46", "15/45", "26/36", "27/37"]) await page.click(key(`pair-${pair}`));
  await page.click(key("pair-26/36"));
  assert.match(await page.textContent(key("pair-26/36")), /slide/);
  assert.match(await page.textContent("main [role=status]"), /4 hold, 1 slide, 0 open/);
  await page.click(key("rest-untestable"));
  await stage.inspect(page, "film");
  await page.click(key("done"));
  await page.waitForSelector("text=Film of before kept.");
  assert.match(await page.textContent(key("main")), /Marks, before/);
  await page.click(key("do-baseline-incomplete")); // the line of the checklist leads where it speaks of
  await page.click(key("place-CF"));
  await page.click(key("place-MP"));
  await page.click(key("place-MP"));
  await stage.inspect(page, "marks");
  // The address says what is shown, and a reload shows it again; the next look begins at the treated tooth, in centric.
  await page.click(key("stage-working"));
  await page.click(key("tooth-26"));
  await page.waitForSelector("text=Tooth 26, working");
  assert.match(page.url(), /marks\/before\/working\/26$/);
  await page.reload();
  await page.waitForSelector("text=Tooth 26, working");
  await page.click(key("done"));
  await page.waitForSelector("text=2 marks, 1 heavy");
  await stage.inspect(page, "visit-baseline");
  assert.match(await page.textContent(key("main")), /Record after.*When the restoration is in$/s);

  await page.click(key("main")); // after: one touch
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  const verdict = await page.textContent(".answer strong");
  assert.match(verdict, /Alike|Different|Unclear/);
  await page.click(key("on"));
  await page.waitForSelector(".plot-picture .bracket", { state: "attached" });
  const fold = await page.evaluate(() => document.querySelector(".plot-picture").getBoundingClientRect().bottom);
  assert.ok(fold < 800, `the picture reaches down to ${fold}`);
  assert.equal((await page.textContent(".verdict-word")).toLowerCase(), verdict.replace(". ", "").toLowerCase());
  await stage.inspect(page, "compare");
  await stage.picture(page, "compare");
  await page.click(key("closer"));
  await page.waitForFunction(() => /Showing -2\.0 to 4\.0 ms/.test(document.querySelector("figure.picture [role=status]")?.textContent ?? ""));
  await stage.inspect(page, "compare-zoomed");
  // The line runs through the whole picture in half a second: what was drawn is noted, since a look may come too late.
  await page.click(key("wider"));
  await page.click(key("wider"));
  await page.waitForFunction(() => /Showing -10\.0 to 12\.0 ms/.test(document.querySelector("figure.picture [role=status]")?.textContent ?? ""));
  await page.evaluate(() => {
    new MutationObserver((changes) => {
      for (const change of changes) for (const node of change.addedNodes) if (node instanceof Element && node.matches(".now")) document.body.dataset.lineDrawn = "yes";
    }).observe(document.querySelector(".picture-holder"), { childList: true, subtree: true });
  });
  await page.click(key("slow-motion"));
  await page.waitForSelector("body[data-line-drawn]");

  await toVisit(page);
  await page.click(key("film-after"));
  // The baseline lies behind each pair; what differs is said while it is charted, and the rest is as before in one touch.
  await page.click(key("pair-17/47"));
  assert.match(await page.textContent(key("pair-17/47")), /hold$/);
  await page.click(key("pair-17/47"));
  assert.match(await page.textContent(key("pair-17/47")), /slide.*− lost/s);
  await page.click(key("rest"));
  assert.match(await page.textContent(key("pair-16/46")), /hold.*as before/s);
  await stage.inspect(page, "film-after");
  await page.click(key("done"));
  await page.waitForSelector("text=What changed");
  await page.click(key("marks-after"));
  await page.waitForSelector("text=Tooth 16, centric");
  await page.click(key("place-CF"));
  await page.click(key("place-CF"));
  assert.match(await page.textContent(key("place-CF")), /heavy.*heavier/s);
  await page.click(key("restoration"));
  await page.click(key("rest"));
  await stage.inspect(page, "marks-after");
  await page.click(key("done"));
  await page.click(key("numb-yes"));
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=true]`);
  await stage.inspect(page, "visit-after");
  await stage.picture(page, "visit");

  await page.click(key("undo"));
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=false]`);
  await page.click(key("undo"));
  await page.waitForFunction(() => /Not charted/.test(document.querySelector('[data-key="marks-after"]')?.textContent ?? ""));

  await page.click(key("details"));
  await page.fill("#label", "Chair 2, 0417");
  await page.fill("#procedure", "composite");
  await page.fill("#supervisor", "Supervisor 4");
  await stage.inspect(page, "details");
  await page.click(key("save"));
  await page.waitForSelector("h1:has-text('Chair 2, 0417')");

  // Adjusting opens the next look, and the button records it.
  await page.click(key("decide-adjust"));
  await page.waitForSelector(key("sound-after2"));
  await page.waitForFunction(() => /Record after 2/.test(document.querySelector('[data-key="main"]')?.textContent ?? ""));
  const [exported] = await Promise.all([page.waitForEvent("download"), page.click(key("export"))]);
  assert.equal(JSON.parse(fs.readFileSync(await exported.path(), "utf8")).label, "Chair 2, 0417");
  const address = await page.getAttribute(key("report"), "href");
  const report = await page.evaluate((at) => fetch(at).then((reply) => reply.text()), address);
  assert.match(report, /Visit Chair 2, 0417: composite/); // as the command writes it
  assert.match(report, /Report of \d{4}-\d\d-\d\d \d\d:\d\d UTC/);

  // What is read before signing is on one page, says what is missing, and knows who supervises.
  await page.click(key("sign"));
  await page.waitForSelector(".read-charts .plot-teeth");
  assert.equal(await page.inputValue("#name"), "Supervisor 4");
  assert.match(await page.textContent(".facts"), /16.*composite.*adjust and look again/is);
  assert.match(await page.textContent(".gaps"), /\w/);
  const gaps = await page.locator(".gaps li").count();
  assert.match(await page.textContent(key("sign")), new RegExp(`^Sign with ${gaps} gaps?$`));
  await stage.inspect(page, "sign");
  await page.click(key("sign"));
  await page.waitForSelector(".signed");
  assert.match(await page.textContent(".signed"), /Signed by Supervisor 4, supervisor, \d+ \w+ \d{4}, \d\d:\d\d/);
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
  await page.tap(key("sound-before"));
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
  await page.tap(key("add-after"));
  await page.tap(key("main"));
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
