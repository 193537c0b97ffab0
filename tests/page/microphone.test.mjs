// The program itself with a real sound system: what the virtual sound card is played is what the page records.
// Run under tools/virtual_audio.sh run.
import assert from "node:assert/strict";
import { spawn, spawnSync } from "node:child_process";
import path from "node:path";
import { test } from "node:test";
import { Stage, key, newVisit, recording, toVisit } from "./harness.mjs";

/** Plays a take to the virtual sound card, as WAV: paplay takes FLAC for raw samples. */
function played(stage, name) {
  const wav = path.join(stage.folder, `${name}.wav`);
  const made = spawnSync("sox", [recording(`${name}.flac`), wav], { encoding: "utf8" });
  assert.equal(made.status, 0, made.stderr ?? String(made.error));
  return spawn("paplay", ["-d", "mic48", wav], { env: { ...process.env, HOME: stage.folder } });
}

test("retap chairside records a baseline from a sound device, and ends cleanly with everything kept", async (t) => {
  const stage = new Stage(t);
  const settings = { XDG_CONFIG_HOME: stage.folder, XDG_STATE_HOME: stage.folder };
  const page = await stage.open(await stage.serveProgram(["--device", "mic48", "--taps", "6"], settings));
  await newVisit(page, 46);
  await page.click(key("sound-before"));
  await page.waitForSelector(".listening-line");
  assert.match(await page.textContent(".listening-line"), /mic48/);
  const player = played(stage, "before");
  t.after(() => player.kill());
  await page.waitForSelector(".slot.heard");
  await page.waitForSelector(".outcome", { timeout: 90_000 });
  assert.match(await page.textContent(".outcome"), /Kept\. Good take: /);
  await toVisit(page);
  stage.check();

  await stage.stopServer();
  assert.equal(stage.server.child.exitCode, 0);
  await page.close();
  const again = await stage.open(await stage.serveProgram(["--device", "mic48"], settings));
  await again.click(".visit-line");
  await again.waitForSelector(".looks");
  assert.match(await again.textContent(key("sound-before")), /Good take/);
  stage.check();
});

test("Which pick-up listens is chosen where a take is recorded, and stays chosen", async (t) => {
  const stage = new Stage(t);
  const settings = { XDG_CONFIG_HOME: stage.folder, XDG_STATE_HOME: stage.folder };
  const page = await stage.open(await stage.serveProgram(["--device", "mic44", "--taps", "6"], settings));
  await newVisit(page, 46);
  await page.click(key("sound-before"));
  await page.click(key("drop"));
  await page.waitForSelector(".outcome");
  assert.equal(await page.inputValue(key("device")), "mic44");
  await page.selectOption(key("device"), "mic48");
  await page.waitForFunction(() => document.querySelector('[data-key="device"]')?.value === "mic48");
  await page.click(key("again"));
  await page.waitForSelector(".listening-line");
  assert.match(await page.textContent(".listening-line"), /mic48/);
  await page.click(key("drop"));
  await page.waitForSelector(".outcome");
  stage.check();
});

test("A second start for one store leads to the first", async (t) => {
  const stage = new Stage(t);
  const address = await stage.serveProgram(["--device", "mic48"], {});
  const second = spawnSync(process.env.RETAP_PROGRAM, ["chairside", "--no-browser", "--store", stage.store], { encoding: "utf8" });
  assert.equal(second.status, 0);
  assert.match(second.stdout, /open already/);
  const other = /http:\S+/.exec(second.stdout)[0];
  assert.notEqual(other, address); // each opens once
  assert.equal(new URL(other).port, new URL(address).port);
  const page = await stage.open(other);
  await page.waitForSelector(key("new-16"));
  stage.check();
});
