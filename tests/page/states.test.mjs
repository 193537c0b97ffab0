import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import fs from "node:fs";
import { test } from "node:test";
import { Stage, key, newVisit, recordHere, recording, toVisit } from "./harness.mjs";

test("Without a device the page says so and offers a sound file instead", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["none"]), { quiet: true });
  await newVisit(page);
  await recordHere(page);
  assert.match(await page.textContent(".outcome"), /No sound input is there/);
  await stage.inspect(page, "no-device");
  await page.setInputFiles("#file", recording("before.flac"));
  await page.waitForSelector(".look .check.done");
  assert.match(await page.textContent(key("sound-before")), /Good take/);
  stage.check();
});

test("A file that is no sound is refused in words and nothing is kept", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["none"]), { quiet: true });
  await newVisit(page);
  await recordHere(page);
  await page.setInputFiles("#file", { name: "letter.wav", mimeType: "audio/wav", buffer: Buffer.from("Dear colleague") });
  await page.waitForSelector(".banner-failed");
  assert.match(await page.textContent(".banner-failed"), /letter\.wav/);
  stage.check();
});

test("A device that is lost keeps what was heard, and nothing heard is said as such", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([`${recording("before.flac")}:lost`, "silence"]));
  await newVisit(page);
  await recordHere(page);
  assert.match(await page.textContent(".outcome"), /device was lost/);
  await stage.inspect(page, "device-lost");
  await page.click(key("again"));
  await page.waitForSelector(key("stop"));
  await page.click(key("stop"));
  await page.waitForFunction(() => /No tap was heard/.test(document.querySelector(".outcome")?.textContent ?? ""));
  await stage.inspect(page, "nothing-heard");
  stage.check();
});

test("Stopping without keeping keeps nothing", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac")], 1));
  await newVisit(page);
  await page.click(key("sound-before"));
  await page.waitForSelector(".slot.heard");
  await page.click(key("drop"));
  await page.waitForSelector(".outcome");
  assert.match(await page.textContent(".outcome"), /Nothing was kept/);
  await toVisit(page);
  assert.match(await page.textContent(key("sound-before")), /Not recorded/);
  assert.deepEqual(fs.readdirSync(`${stage.store}.takes`), []);
  stage.check();
});

test("A look that was begun for a recording is gone when that is stopped and not kept", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("before-again.flac")], 4));
  await newVisit(page);
  await recordHere(page);
  await toVisit(page);
  await page.click(key("add-after"));
  await page.click(key("sound-after"));
  await page.waitForSelector(".slot.heard");
  await page.click(key("drop"));
  await page.waitForSelector(".outcome");
  assert.match(await page.textContent(".outcome"), /Nothing was kept/);
  await page.click(key("on"));
  await page.waitForSelector(".looks");
  assert.equal(await page.locator(".look").count(), 1);
  stage.check();
});

test("A visit that was opened by mistake is discarded, and one that holds something is not", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await newVisit(page, 36);
  await page.click(key("discard"));
  await page.waitForSelector("text=No visit yet today");
  await newVisit(page, 46);
  await page.click(key("film-before"));
  await page.click(key("pair-16/46"));
  await page.click(key("done"));
  await page.waitForSelector("text=1 of 1 hold");
  assert.equal(await page.locator(key("discard")).count(), 0);
  stage.check();
});

test("Two people on one chart: the newer state shows and says so, and what was touched here comes back by one touch", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await newVisit(page);
  await page.click(key("film-before"));
  await page.click(key("pair-17/47"));
  const id = /\d+/.exec(new URL(page.url()).hash)[0];
  await page.evaluate((visit) => fetch(`/api/visits/${visit}/looks/before/holds`, { method: "PUT", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ chart: "iso: open 26/36" }) }), id);
  await page.waitForSelector("text=Changed in another window meanwhile");
  assert.match(await page.textContent(key("pair-26/36")), /open/);
  assert.doesNotMatch(await page.textContent(key("pair-17/47")), /hold/);
  await page.click(key("back-step"));
  assert.match(await page.textContent(key("pair-17/47")), /hold/);
  stage.check();
});

test("Reloading while a take is recorded comes back to it, and the take is kept once", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac")], 1));
  await newVisit(page);
  await page.click(key("sound-before"));
  await page.waitForSelector(".slot.heard");
  await page.reload();
  await page.waitForSelector(".listening-line");
  await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  await toVisit(page);
  assert.match(await page.textContent(key("sound-before")), /Good take/);
  stage.check();
});

test("Two tabs show the same: one records, the other says that it listens and sees the take arrive", async (t) => {
  const stage = new Stage(t);
  const address = await stage.serve([recording("before.flac")], 1);
  const first = await stage.open(address);
  await newVisit(first);
  const second = await first.context().newPage();
  await second.goto(first.url());
  await second.waitForSelector(".looks");
  await second.waitForFunction(() => document.visibilityState === "visible");
  await first.click(key("sound-before"));
  await second.waitForSelector(".banner-listening");
  await second.waitForFunction(() => /Good take/.test(document.querySelector('[data-key="sound-before"]')?.textContent ?? ""), null, { timeout: 120_000 });
  await second.click(key("numb-no"));
  await second.waitForSelector(`${key("numb-no")}[aria-pressed=true]`);
  await first.bringToFront();
  await first.waitForSelector(".outcome.good");
  await toVisit(first);
  await first.waitForSelector(`${key("numb-no")}[aria-pressed=true]`);
  stage.check();
});

test("A touch is not lost when another one changes the screen while the finger is down", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await newVisit(page);
  await page.hover(key("feel-high"));
  await page.mouse.down();
  const told = page.waitForResponse((reply) => /\/api\/visits\/\d+$/.test(reply.url()));
  await page.evaluate(() => fetch(`/api/visits/${/\d+/.exec(location.hash)[0]}/patient`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ numb: true }) }));
  await (await told).finished();
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
  await page.mouse.up();
  await page.waitForSelector(`${key("feel-high")}[aria-pressed=true]`, { timeout: 10_000 });
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=true]`);
  stage.check();
});

test("A server that is killed while recording comes back with the visit and what was heard", async (t) => {
  const stage = new Stage(t);
  const sounds = [recording("before.flac")];
  const page = await stage.open(await stage.serve(sounds, 1), { quiet: true });
  await newVisit(page);
  await page.click(key("sound-before"));
  await page.waitForFunction(() => document.querySelectorAll(".slot.heard").length >= 4, null, { timeout: 60_000 });
  await stage.killServer();
  await page.waitForSelector(".banner-stopped");
  assert.match(await page.textContent(".banner-stopped"), /Retap does not answer/);
  assert.match(await page.textContent(".listening-line"), /Not listening/); // nothing hears now, and nothing says so
  await page.screenshot({ path: `${process.env.RETAP_SCREENSHOTS}/server-gone.png` });
  const address = await stage.serve(sounds, 1); // the same port, since the first was killed; the cookie is worth nothing now
  await page.waitForSelector("text=Retap was started anew");
  const opened = await page.context().newPage();
  await opened.goto(address);
  await page.waitForSelector(".banner-stopped", { state: "detached" });
  await opened.close();
  await toVisit(page);
  await page.waitForFunction(() => /tap/.test(document.querySelector('[data-key="sound-before"]')?.textContent ?? ""));
  assert.deepEqual(stage.problems, []);
});

test("A server that was stopped and started anew is told apart from one that does not answer", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]), { quiet: true });
  await newVisit(page);
  const port = new URL(page.url()).port;
  await stage.stopServer();
  await page.waitForSelector(".banner-stopped");
  fs.writeFileSync(`${stage.store}.chairside`, `${port}\n`); // the same port
  await stage.serve(["silence"]);
  await page.waitForSelector("text=Retap was started anew");
  stage.check();
});

test("A store that takes nothing is said, nothing is lost, and the page goes on when it takes things again", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]), { quiet: true });
  await newVisit(page);
  // Another program that holds the store for writing: unlike permissions, it stops root as well.
  const hold = "import sqlite3,sys; c=sqlite3.connect(sys.argv[1],isolation_level=None); c.execute('begin immediate'); print('held',flush=True); sys.stdin.read()";
  const holder = spawn("python3", ["-c", hold, stage.store], { stdio: ["pipe", "pipe", "inherit"] });
  t.after(() => holder.kill());
  await new Promise((resolve) => holder.stdout.once("data", resolve));
  await page.click(key("numb-yes"));
  await page.waitForSelector(".banner-failed");
  await page.screenshot({ path: `${process.env.RETAP_SCREENSHOTS}/store-busy.png` });
  assert.equal(await page.getAttribute(key("numb-yes"), "aria-pressed"), "false");
  holder.stdin.end();
  await new Promise((resolve) => holder.on("exit", resolve));
  await page.click(key("numb-yes"));
  await page.waitForSelector(`${key("numb-yes")}[aria-pressed=true]`);
  stage.check();
});
