// Starts the chairside server and a real browser for one test, and ends both whatever happens.
import { spawn } from "node:child_process";
import fs from "node:fs";
import { after } from "node:test";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import assert from "node:assert/strict";
import { faint } from "./contrast.mjs";

const need = (name) => {
  const value = process.env[name];
  if (!value) throw new Error(`${name} is not set; run these tests through ctest`);
  return value;
};
const require = createRequire(path.join(need("RETAP_PAGE_PACKAGES"), "package.json"));
const { chromium } = require("playwright-core");
const axeSource = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

export const recordings = need("RETAP_RECORDINGS");
export const recording = (name) => path.join(recordings, name);
const shots = need("RETAP_SCREENSHOTS");
fs.mkdirSync(shots, { recursive: true });
const everyShot = process.env.RETAP_EVERY_SHOT === "1"; // drawing and packing them is a quarter of the time

// One browser for all tests of a file: each page has a context of its own, so nothing is shared but the start.
let browser = null;
const theBrowser = () =>
  (browser ??= chromium.launch({
    executablePath: need("RETAP_CHROMIUM"),
    args: ["--no-sandbox", "--headless=new", "--disable-dev-shm-usage", "--autoplay-policy=no-user-gesture-required"],
  }));
after(async () => (await browser)?.close());

/** A child process whose first line on stdout that matches is its address. */
async function started(command, args, options = {}) {
  const child = spawn(command, args, { stdio: ["pipe", "pipe", "pipe"], ...options });
  let said = "";
  let errors = "";
  child.stderr.on("data", (data) => (errors += data));
  const address = await new Promise((resolve, reject) => {
    const limit = setTimeout(() => reject(new Error(`no address within 60 s: ${said}${errors}`)), 60_000);
    child.stdout.on("data", (data) => {
      said += data;
      const found = /http:\/\/127\.0\.0\.1:\d+\/open\?token=[0-9a-f]+\s/.exec(said);
      if (found) {
        clearTimeout(limit);
        resolve(found[0].trim());
      }
    });
    child.on("exit", (code) => reject(new Error(`ended with ${code}: ${errors}`)));
  });
  const ended = new Promise((resolve) => child.on("exit", resolve));
  return { child, address, ended, errors: () => errors };
}

/** Everything a test needs; close() is called by the runner. */
export class Stage {
  constructor(t) {
    this.folder = fs.mkdtempSync(path.join(os.tmpdir(), "retap-page-"));
    this.problems = [];
    this.contexts = [];
    t.after(() => this.close());
  }

  get store() {
    return path.join(this.folder, "visits.db");
  }

  /** The test server with a played pick-up; see tests/chairside/page_server.cpp. */
  async serve(sounds, speed = 4) {
    this.server = await started(need("RETAP_PAGE_SERVER"), [this.store, String(speed), ...sounds]);
    return this.server.address;
  }

  /** The program itself, as a clinic starts it. */
  async serveProgram(args, env) {
    this.server = await started(need("RETAP_PROGRAM"), ["chairside", "--no-browser", "--store", this.store, ...args], { env: { ...process.env, ...env } });
    return this.server.address;
  }

  async stopServer() {
    this.server.child.stdin.end();
    this.server.child.kill("SIGTERM");
    await this.server.ended;
  }

  async killServer() {
    this.server.child.kill("SIGKILL");
    await this.server.ended;
  }

  /** A page in a browser of its own. `quiet`: failed requests are expected, since the server is gone for a while. */
  async open(address, { viewport = { width: 1280, height: 800 }, quiet = false, ...options } = {}) {
    const context = await (await theBrowser()).newContext({ viewport, bypassCSP: false, ...options });
    this.contexts.push(context);
    const page = await context.newPage();
    page.setDefaultTimeout(60_000);
    page.on("pageerror", (error) => this.problems.push(`page error: ${error.message}`));
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type()) && !quiet) this.problems.push(`console: ${message.text()}`);
    });
    page.on("request", (request) => {
      const url = request.url();
      if (!/^(http:\/\/127\.0\.0\.1:|data:|blob:|file:)/.test(url)) this.problems.push(`fetched ${url}`);
    });
    if (address) await page.goto(address);
    return page;
  }

  /** Accessibility, contrast in both themes, no sideways scrolling, nothing that runs out of its box or is too small to
   *  touch. With RETAP_EVERY_SHOT=1 also a screenshot of each theme. */
  async inspect(page, name) {
    await page.emulateMedia({ colorScheme: "light" });
    await this.accessible(page, name);
    await this.fits(page, name);
    await this.shot(page, `${name}-light`);
    // Themes differ in nothing but colours; our own check of these takes a tenth of the time.
    await page.emulateMedia({ colorScheme: "dark" });
    for (const word of await page.evaluate(faint, { disabledToo: false })) this.problems.push(`${name}, dark: stands out too little: ${word}`);
    await this.shot(page, `${name}-dark`);
    await page.emulateMedia({ colorScheme: "light" });
  }

  async shot(page, name) {
    if (!everyShot) return;
    await page.evaluate(() => window.scrollTo(0, 0));
    await page.screenshot({ path: path.join(shots, `${name}.png`), fullPage: true });
  }

  async accessible(page, name) {
    // The page's own policy refuses scripts from outside; the protocol's evaluate is not bound by it.
    if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axeSource);
    const { violations } = await page.evaluate((options) => window.axe.run(options), {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      resultTypes: ["violations"], // naming what is in order took longer than looking at it
      preload: false, // nothing plays by itself; waiting for each sound's head does not tell more
    });
    for (const violation of violations) {
      this.problems.push(`${name}: ${violation.id}: ${violation.nodes.map((node) => `${node.target} ${node.failureSummary}`).join("; ")}`);
    }
  }

  /** What depends on the size of the screen. */
  async fits(page, name) {
    const wanted = page.viewportSize();
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (over > 0) this.problems.push(`${name}: ${over} px wider than the screen of ${wanted.width}`);
    // A part that is smaller than what is in it lies under its neighbours.
    const squeezed = await page.evaluate(() =>
      [...document.body.querySelectorAll("form, section, fieldset, ul, ol, li, p, button, h1, h2, h3")]
        .filter((element) => element.clientHeight > 0 && element.scrollHeight > element.clientHeight + 6 && getComputedStyle(element).overflowY === "visible")
        .map((element) => `${element.tagName}.${element.className} ${element.textContent.slice(0, 40)}: ${element.scrollHeight} px in ${element.clientHeight}`),
    );
    for (const part of squeezed) this.problems.push(`${name}: runs out of its box: ${part}`);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("button, a.button, .visit-line, .choice, summary")]
        .map((element) => ({ text: element.textContent, box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && (box.width < 43.5 || box.height < 43.5))
        .map(({ text, box }) => `${text} ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`),
    );
    for (const target of small) this.problems.push(`${name}: target below 44 px: ${target}`);
  }

  /** What a person sees at once, for the README: src/page/pictures holds copies. */
  async picture(page, name) {
    await page.mouse.move(0, 0);
    await page.evaluate(() => window.scrollTo(0, 0));
    await page.screenshot({ path: path.join(shots, `picture-${name}.png`) });
  }

  check() {
    assert.deepEqual(this.problems, []);
  }

  async close() {
    for (const context of this.contexts) await context.close();
    if (this.server && this.server.child.exitCode === null && this.server.child.signalCode === null) await this.stopServer();
    fs.rmSync(this.folder, { recursive: true, force: true });
  }
}

// Steps that several tests take.
export const key = (name) => `[data-key="${name}"]`;

export async function newVisit(page, tooth = 16) {
  await page.click(key(`new-${tooth}`));
  await page.waitForSelector(".looks");
}

/** Touches the sound of a look, and waits for what comes of it. */
export async function recordHere(page, look = "before") {
  await page.click(key(`sound-${look}`));
  await page.waitForSelector(".outcome", { timeout: 120_000 });
}

/** Film at these pairs, all of them holding; the others cannot be tested. */
export async function filmHere(page, look, pairs) {
  await page.click(key(`film-${look}`));
  for (const pair of pairs) await page.click(key(`pair-${pair}`));
  if (look === "before") await page.click(key("rest-untestable"));
  await page.click(key("done"));
  await page.waitForSelector(".looks");
}

export async function toVisit(page) {
  await page.keyboard.press("Escape");
  await page.waitForSelector(".looks");
}
