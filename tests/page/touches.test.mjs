// Counts touches of the common paths, as a finger makes them, and fails when one gets longer. Nothing of them lies below
// the fold of a small screen.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Stage, key, recording } from "./harness.mjs";

/** A page that counts its touches; each target is in view without scrolling. */
class Finger {
  touches = 0;
  constructor(page) {
    this.page = page;
  }
  async touch(...names) {
    for (const name of names) {
      const target = this.page.locator(key(name));
      await target.waitFor();
      const fold = this.page.viewportSize().height;
      const box = await this.page.waitForFunction((name) => document.querySelector(`[data-key="${name}"]`)?.getBoundingClientRect().toJSON(), name).then((told) => told.jsonValue());
      assert.ok(box.y >= 0 && box.y + box.height <= fold, `${name} reaches down to ${Math.round(box.y + box.height)} of ${fold}`);
      await target.click();
      this.touches += 1;
    }
  }
  /** The touches since it was asked last. */
  spent() {
    const spent = this.touches;
    this.touches = 0;
    return spent;
  }
  at(selector, options) {
    return this.page.waitForSelector(selector, options);
  }
}

test("From seated to signed no common path takes more touches than it has to", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("after-high-100um.flac"), recording("after-unchanged.flac")], 6));
  const finger = new Finger(page);
  await finger.touch("new-16", "sound-before");
  await finger.at(".outcome.good", { timeout: 120_000 });
  assert.ok(finger.spent() <= 2, "baseline");
  await finger.touch("on");
  await finger.at(".looks");
  finger.spent();

  const ten = ["18/48", "17/47", "16/46", "15/45", "14/44", "24/34", "25/35", "26/36", "27/37", "28/38"];
  await finger.touch("main", ...ten.map((pair) => `pair-${pair}`), "done");
  await finger.at("text=10 of 10 hold");
  assert.ok(finger.spent() <= 12, "film, ten pairs");
  await finger.touch("main", "rest-untestable", "done");
  await finger.at(`${key("main")}:has-text("Marks")`);
  finger.spent();

  await finger.touch("main", "place-CF", "place-MP", "tooth-26", "place-CF", "place-MP", "done");
  await finger.at("text=4 marks");
  assert.ok(finger.spent() <= 8, "four marks on two teeth");

  await finger.at(`${key("main")}:has-text("Record after")`);
  await finger.touch("main");
  await finger.at(".outcome.good", { timeout: 120_000 });
  assert.ok(finger.spent() <= 1, "after");
  await finger.touch("on");
  await finger.at(".verdict");
  await page.keyboard.press("Escape");
  await finger.at(".looks");

  await finger.touch("film-after");
  finger.spent();
  await finger.touch("rest");
  assert.equal(finger.spent(), 1, "the rest as before");
  assert.match(await page.textContent("main [role=status]"), /10 hold/);
  await finger.touch("done");
  await finger.at(".looks");
  await finger.touch("marks-after", "rest", "done");
  await finger.at(".looks");

  finger.spent();
  await finger.touch("decide-adjust");
  await finger.at(`${key("main")}:has-text("Record after 2")`);
  await finger.touch("main");
  await finger.at(".answer", { timeout: 120_000 });
  assert.ok(finger.spent() <= 3, "from adjusting to the next verdict");
  stage.check();
});
