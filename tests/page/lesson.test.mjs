import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";
import { Stage } from "./harness.mjs";

const folder = fs.mkdtempSync(path.join(os.tmpdir(), "retap-handout-"));
const file = path.join(folder, "handout.html");
before(() => execFileSync(process.env.RETAP_PROGRAM, ["lesson", "--export", file]));
after(() => fs.rmSync(folder, { recursive: true, force: true }));
const handout = pathToFileURL(file).href;

test("The handout opens without a network, is accessible and fits desk and phone", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null, { offline: true });
  await page.goto(handout);
  await stage.inspect(page, "lesson-desk");
  await page.setViewportSize({ width: 390, height: 800 });
  await stage.fits(page, "lesson-phone");
  await stage.shot(page, "lesson-phone");
  stage.check();
});

test("Every sound of the handout plays", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null, { offline: true });
  await page.goto(handout);
  const lengths = await page.evaluate(() => Promise.all([...document.querySelectorAll("audio")].map((sound) => new Promise((resolve, reject) => {
    sound.addEventListener("loadedmetadata", () => resolve(sound.duration));
    sound.addEventListener("error", () => reject(new Error(sound.getAttribute("aria-label"))));
    sound.load();
  }))));
  assert.ok(lengths.length > 20);
  // Five taps at 2 to 3 a second, a lead and a tail.
  assert.ok(lengths.every((length) => length > 1.5 && length < 5), lengths.join(" "));
  stage.check();
});

test("The quiz is worked by keyboard, counts the first answer, and shows no answer before", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null, { offline: true });
  await page.goto(handout);
  const tasks = page.locator("[data-task]");
  const count = await tasks.count();
  assert.equal(count, 7);
  for (let i = 0; i < count; ++i) {
    const task = tasks.nth(i);
    assert.equal(await task.locator("details").isVisible(), false);
    const radios = task.locator("input[type=radio]");
    const right = Number(await task.getAttribute("data-task"));
    const wrong = (right + 1) % (await radios.count());
    if (i === 0) {
      await task.getByRole("button", { name: "Check my answer" }).focus();
      await page.keyboard.press("Enter");
      assert.equal(await task.locator("[role=status]").textContent(), "Choose one first.");
    }
    await radios.nth(i === 1 ? wrong : right).focus();
    await page.keyboard.press("Space");
    await task.getByRole("button", { name: "Check my answer" }).focus();
    await page.keyboard.press("Enter");
    assert.equal(await task.locator("[role=status]").textContent(), i === 1 ? "Not so." : "Right.");
    assert.equal(await task.locator("details").isVisible(), true);
  }
  // Answering again, right this time, does not better the score.
  await tasks.nth(1).locator("input[type=radio]").nth(Number(await tasks.nth(1).getAttribute("data-task"))).check();
  await tasks.nth(1).getByRole("button", { name: "Check my answer" }).click();
  assert.match(await page.locator("[data-score]").textContent(), /6 right of 7 answered, of 7 tasks/);
  stage.check();
});

test("Without scripts every answer can still be opened", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(null, { javaScriptEnabled: false });
  await page.goto(handout);
  const answer = page.locator("[data-task] details").first();
  assert.equal(await page.locator("[data-task] button").first().isVisible(), false);
  await answer.locator("summary").click();
  assert.equal(await answer.locator("p").isVisible(), true);
  stage.check();
});
