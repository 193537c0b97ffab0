import assert from "node:assert/strict";
import { test } from "node:test";
import { formatRoute, parseRoute, type Route } from "../ts/route";

test("Every screen's address leads back to it", () => {
  const routes: Route[] = [
    { screen: "visits" },
    { screen: "visit", visit: "7" },
    { screen: "film", visit: "7", look: "2" },
    { screen: "marks", visit: "7", look: "after2" },
    { screen: "marks", visit: "7", look: "after2", stage: "non-working", tooth: 26 },
    { screen: "sign", visit: "a/b c" },
    { screen: "learn" },
    { screen: "bench" },
    { screen: "hearing" },
    { screen: "lesson", lesson: "3" },
    { screen: "chart-lesson", patient: "3" },
  ];
  for (const route of routes) assert.deepEqual(parseRoute(formatRoute(route)), route);
});

test("A chart of marks opens at the start when its address names no stage or tooth that there is", () => {
  assert.deepEqual(parseRoute("#/visit/7/marks/after/sideways/26"), { screen: "marks", visit: "7", look: "after", tooth: 26 });
  assert.deepEqual(parseRoute("#/visit/7/marks/after/working/59"), { screen: "marks", visit: "7", look: "after", stage: "working" });
});

test("Addresses that mean nothing lead to the nearest screen that does", () => {
  assert.deepEqual(parseRoute(""), { screen: "visits" });
  assert.deepEqual(parseRoute("#/nowhere/7"), { screen: "visits" });
  for (const broken of ["#/%E0", "#/%", "#/visit/%E0%A4%A"]) assert.deepEqual(parseRoute(broken), { screen: "visits" });
  assert.deepEqual(parseRoute("#/learn/lesson"), { screen: "learn" });
  assert.deepEqual(parseRoute("#/visit/7/film"), { screen: "visit", visit: "7" });
  assert.deepEqual(parseRoute("#/visit/7/dance/1"), { screen: "visit", visit: "7" });
});
