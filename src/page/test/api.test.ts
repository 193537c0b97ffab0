import assert from "node:assert/strict";
import { test } from "node:test";
import { withoutCommands } from "../ts/api";

test("Nobody at the chair is told a command; everything else of a message stays", () => {
  assert.equal(withoutCommands("There is no visit 7. See which there are with: retap visit list"), "There is no visit 7.");
  assert.equal(withoutCommands("Reading 'letter.wav': it is no sound. Choose another file."), "Reading 'letter.wav': it is no sound. Choose another file.");
  assert.equal(withoutCommands("Give iso or universal: retap visit defaults --numbering iso\n"), "");
});
