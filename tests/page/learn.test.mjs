// Learning on the page: the bench, a lesson with its task, and the listening test.
import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { test } from "node:test";
import { Stage, key, newVisit, recordHere, recording, toVisit } from "./harness.mjs";

const press = async (page, ...keys) => {
  for (const one of keys) await page.keyboard.press(one);
};
const focused = (page) => page.evaluate(() => document.activeElement?.dataset.key ?? document.activeElement?.tagName);
const settled = (page) => page.waitForSelector(".bench-result:not([aria-busy]) .plot-lesson");

async function learn(stage, options) {
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("before-again.flac")]), options);
  await page.click(key("learn"));
  await page.waitForSelector(key("lesson-7"));
  return page;
}

test("The bench makes any bite: what is set is told in words, drawn, measured and heard", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage);
  await stage.inspect(page, "learn");
  assert.match(await page.textContent("main"), /What it cannot tell/);
  await page.click(key("bench"));
  await settled(page);
  // 100 um at 50 mm/s is 2 ms: height over speed.
  assert.match(await page.textContent(".bench-result"), /16 high by 100 µm, closing at 50 mm\/s.*= 2\.00 ms/s);
  await stage.inspect(page, "bench");
  await stage.picture(page, "bench");

  await page.focus(key("speed"));
  for (let i = 0; i < 10; ++i) await press(page, "ArrowRight"); // 50 mm/s more, in steps of 5
  await page.waitForFunction(() => /100 mm\/s = 1\.00 ms/.test(document.querySelector(".bench-result")?.textContent ?? ""));
  assert.equal(await page.getAttribute("#speed", "aria-valuetext"), "100 mm/s");
  assert.equal(await focused(page), "speed");

  await page.click(key("bench-36"));
  await page.check(key("out"));
  await page.waitForFunction(() => /36 out of contact by 100 µm/.test(document.querySelector(".bench-result")?.textContent ?? ""));
  await settled(page);
  const met = await page.locator(".bench-result details tbody th").allTextContents();
  assert.ok(met.length > 8 && !met.includes("26"), met.join(" "));

  // Both sounds can be had, and slow motion is so many times as long.
  const seconds = () => page.evaluate(() => Promise.all([...document.querySelectorAll(".bench-listen audio")].map((audio) => new Promise((resolve, reject) => {
    audio.addEventListener("loadedmetadata", () => resolve(audio.duration), { once: true });
    audio.addEventListener("error", () => reject(new Error(audio.src)), { once: true });
    audio.load();
  }))));
  const usual = await seconds();
  await page.check(key("slow-4"));
  const slow = await seconds();
  assert.ok(usual.every((length) => length > 2 && length < 6), usual.join(" "));
  slow.forEach((length, i) => assert.ok(Math.abs(length / usual[i] - 4) < 0.02, `${length} of ${usual[i]}`));

  await page.focus(key("alternate"));
  await press(page, "Tab", "Shift+Tab", "Space");
  await page.waitForSelector(".player.before.playing");
  await press(page, "Escape");
  await page.waitForSelector(key("lesson-7"));
  stage.check();
});

test("A lesson is worked by keyboard; its task is checked, explained and remembered", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage);
  await page.focus(key("lesson-5"));
  await press(page, "Enter");
  await page.waitForSelector(".lesson-turn");
  assert.doesNotMatch(await page.textContent(".lesson-turn"), /It was A|It was B/);
  await page.focus(key("check"));
  await press(page, "Enter");
  await page.waitForSelector("text=Choose an answer first.");
  await page.focus(key("choice-0"));
  await press(page, "Space");
  await page.focus(key("check"));
  await press(page, "Enter");
  await page.waitForSelector(".lesson-turn .outcome");
  // What settles whether a tooth is out of contact is film, the second answer.
  assert.match(await page.textContent(".lesson-turn .outcome"), /Not so\. It is: shim film on that tooth/);
  await stage.inspect(page, "lesson-answered");
  await page.click(key("another"));
  await page.waitForSelector(key("check"));
  await page.check(key("choice-1"));
  await page.click(key("check"));
  await page.waitForSelector("text=Right.");
  assert.equal(await focused(page), "next");
  await press(page, "Escape");
  await page.waitForSelector(`${key("lesson-5")}:has-text("Task solved")`);
  stage.check();
});

test("A listening test tells nothing until it is over, survives a reload, and keeps its result under a label", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage);
  await page.click(key("hearing"));
  await page.check(key("way-same"));
  await page.fill("#learner", "seat-3");
  await stage.inspect(page, "hearing-form");
  await page.click(key("begin"));
  for (let pair = 1; pair <= 20; ++pair) {
    await page.waitForSelector(`text=Pair ${pair} of 20`);
    if (pair === 3) {
      await page.reload();
      await page.waitForSelector("text=Pair 3 of 20");
      await page.click(key("play"));
    }
    await page.waitForSelector(`${key("answer-1")}:enabled`);
    if (pair === 4) {
      await stage.inspect(page, "hearing-trial");
      assert.doesNotMatch(await page.textContent("main"), /right|wrong|µm/i);
    }
    await press(page, pair % 2 === 0 ? "s" : "d");
  }
  await page.waitForSelector(".hearing-result");
  assert.match(await page.textContent(".hearing-result"), /Your ear.*of 10 different pairs.*d'.*Retap, on the same sounds.*of 10 different pairs/s);
  await stage.inspect(page, "hearing-result");
  const kept = fs.readFileSync(path.join(stage.folder, "listening.csv"), "utf8");
  assert.match(kept, /,seat-3,same,50\.0,20,/);
  const [table] = await Promise.all([page.waitForEvent("download"), page.click(key("results"))]);
  assert.equal(fs.readFileSync(await table.path(), "utf8").split("\n").length, 3); // head, one line, the end
  stage.check();
});

test("On a tablet held upright the bench and the odd-one test fit; a test that is left keeps nothing", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage, { viewport: { width: 800, height: 1280 }, hasTouch: true });
  await page.tap(key("bench"));
  await settled(page);
  await stage.inspect(page, "tablet-bench");
  await page.tap("[data-back]");
  await page.tap(key("hearing"));
  await page.fill("#learner", "seat-4");
  await page.tap(key("begin"));
  for (const trial of [1, 2, 3]) {
    await page.waitForSelector(`text=/^Trial ${trial}$/`);
    await page.waitForSelector(`${key("answer-0")}:enabled`);
    await page.tap(key(`answer-${trial - 1}`));
  }
  await page.waitForSelector("text=/^Trial 4$/");
  await page.tap(key("leave"));
  await page.waitForSelector(key("begin"));
  assert.equal(fs.existsSync(path.join(stage.folder, "listening.csv")), false);
  stage.check();
});

test("Own taps recorded twice show how well they repeat", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage);
  await page.click(key("own"));
  await newVisit(page);
  await recordHere(page);
  await toVisit(page);
  await page.click(key("sound-before"));
  await page.waitForSelector(".take");
  assert.doesNotMatch(await page.textContent("main"), /How well these takes repeat/); // one take says nothing of that
  await page.click(key("again"));
  await page.waitForSelector(".outcome", { timeout: 120_000 });
  await toVisit(page);
  await page.click(key("sound-before"));
  await page.waitForSelector("text=How well these takes repeat");
  assert.match(await page.textContent("main"), /rises in.*Two takes differ by up to|Two takes differ by up to.*rises in/s);
  await stage.inspect(page, "own-taps");
  stage.check();
});

// Patient 2: the mark of the treated tooth is gone, and its film slides. Right or left by chance, told by the title.
test("A drawn patient is charted by touch; one thing that is wrong does not pass, all that is right does", async (t) => {
  const stage = new Stage(t);
  const page = await learn(stage);
  await page.click(key("chart-2"));
  await page.waitForSelector(".opened-tooth");
  const mirrored = /46/.test(await page.textContent("h1"));
  const side = (iso) => (mirrored ? { 1: 20, 2: 10, 3: 40, 4: 30 }[Math.floor(iso / 10)] + (iso % 10) : iso);
  const pair = (upper) => key(`pair-${side(upper)}/${side(upper) + (side(upper) < 20 ? 30 : 10)}`);
  await page.click(key("check"));
  await page.waitForSelector("text=Still to be said: the film");
  for (const upper of [17, 16, 15, 14, 24, 25, 27]) await page.click(pair(upper));
  for (const upper of [13, 12, 11, 21, 22, 23]) for (let i = 0; i < 3; ++i) await page.click(pair(upper));
  await page.click(pair(26)); // holds: wrong, it slides
  for (const [iso, places] of [[26, ["CF", "MP"]], [46, ["MB"]]]) {
    await page.click(key(`tooth-${side(iso)}`));
    for (const place of places) await page.click(key(`place-${place}`));
  }
  // Of each mark what it is and whether it carries the bite: a supporting cusp, a fossa, a supporting cusp, three stops.
  for (const [at, choice] of [0, 0, 2, 0, 0, 0].entries()) await page.check(key(`choice-${at}-${choice}`));
  await page.locator(".chart-questions li:last-child label", { hasText: "Look there again with fresh thin paper" }).click();
  await stage.inspect(page, "chart-lesson");
  await page.click(key("check"));
  await page.waitForSelector("text=Not passed");
  assert.equal(await page.locator(".chart-wrong li").count(), 1);
  assert.match(await page.textContent(".chart-wrong"), /film at .*You: hold\. It is: slide\./);

  // Another person charts the same patient, right this time: both are told how far they agree.
  await page.click(key("second"));
  await page.waitForSelector("text=The other person has charted this patient");
  for (const upper of [17, 16, 15, 14, 24, 25, 27, 26, 26]) await page.click(pair(upper));
  for (const upper of [13, 12, 11, 21, 22, 23]) for (let i = 0; i < 3; ++i) await page.click(pair(upper));
  for (const [iso, places] of [[26, ["CF", "MP"]], [46, ["MB"]]]) {
    await page.click(key(`tooth-${side(iso)}`));
    for (const place of places) await page.click(key(`place-${place}`));
  }
  for (const [at, choice] of [0, 0, 2, 0, 0, 0].entries()) await page.check(key(`choice-${at}-${choice}`));
  await page.locator(".chart-questions li:last-child label", { hasText: "Look there again with fresh thin paper" }).click();
  await page.click(key("check"));
  await page.waitForSelector("text=Passed.");
  assert.match(await page.textContent(".lesson-turn"), /You and the first one.*holds: the same in 13 of 14.*kappa 0\.\d+/s);
  await stage.inspect(page, "chart-lesson-passed");
  await press(page, "Escape");
  await page.waitForSelector(`${key("chart-2")}:has-text("Passed")`);
  stage.check();
});
