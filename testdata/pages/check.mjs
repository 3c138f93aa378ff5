// Checks written reports in a browser: node check.mjs [--pages=N] FILE.html...
//
// A report must stay alone (no request, no script), pass the HTML standard's and the
// accessibility rules, fit a telephone without sideways scrolling, and print on two
// pages of A4 and of Letter (one more for every two rims more, or just as many as
// --pages says) with no text under 9 points. CHROMIUM names the browser, "chromium" otherwise.
// Set up with npm install.
import { readFile } from "node:fs/promises";
import { existsSync } from "node:fs";
import { delimiter, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import { HtmlValidate, StaticConfigLoader } from "html-validate";
import { chromium } from "playwright-core";

const leastPt = 9;
const widths = { wide: 1200, telephone: 390 };
const flags = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync"];

const files = [];
let pages = 0;
for (const arg of process.argv.slice(2)) {
  const [, n] = arg.match(/^--pages=(\d+)$/) ?? [];
  if (n) pages = Number(n);
  else files.push(arg);
}
if (files.length === 0) {
  console.error("usage: node check.mjs [--pages=N] FILE.html...");
  process.exit(2);
}

const browser = await chromium.launch({ executablePath: findBrowser(), args: flags });
let failed = 0;
try {
  for (const file of files) {
    const faults = await check(file);
    for (const f of faults) console.log(`${file}: ${f}`);
    if (faults.length > 0) failed++;
    else console.log(`${file}: ok`);
  }
} finally {
  await browser.close();
}
console.log(`${files.length - failed} passed, ${failed} failed`);
process.exitCode = failed > 0 ? 1 : 0;

function findBrowser() {
  const name = process.env.CHROMIUM ?? "chromium";
  if (name.includes("/")) return name;
  const found = process.env.PATH.split(delimiter).map((d) => join(d, name)).find((p) => existsSync(p));
  if (!found) throw new Error(`no ${name} in PATH: install it, or name the browser in CHROMIUM`);
  return found;
}

// check gathers what is wrong with one file.
async function check(file) {
  const faults = await standard(file);
  const url = pathToFileURL(resolve(file)).href;
  const context = await browser.newContext();
  const page = await context.newPage();
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) faults.push(`console: ${m.text()}`); });
  page.on("pageerror", (e) => faults.push(`error in the page: ${e.message}`));
  page.on("request", (r) => { if (r.url() !== url) faults.push(`request to ${r.url().slice(0, 80)}`); });
  try {
    for (const [name, width] of Object.entries(widths)) {
      await page.setViewportSize({ width, height: 900 });
      await page.goto(url);
      faults.push(...await accessible(page, name), ...await sideways(page, name));
    }
    faults.push(...await printed(page));
  } finally {
    await context.close();
  }
  return faults;
}

// standard holds the file to the HTML standard.
async function standard(file) {
  const validator = new HtmlValidate(new StaticConfigLoader({
    root: true, extends: ["html-validate:standard", "html-validate:document", "html-validate:a11y"],
  }));
  const report = await validator.validateString(await readFile(file, "utf8"), file);
  return report.results.flatMap((r) => r.messages)
    .map((m) => `HTML, line ${m.line}: ${m.message} (${m.ruleId})`);
}

// accessible lists grave findings.
async function accessible(page, name) {
  // Evaluated from outside, as the page lets no script in.
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() => window.axe.run());
  return violations.filter((v) => ["serious", "critical"].includes(v.impact))
    .map((v) => `accessibility, ${name}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.target).join(", ")}`);
}

// sideways tells whether anything sticks out of the screen.
async function sideways(page, name) {
  const out = await page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    const out = [];
    if (document.documentElement.scrollWidth > wide) out.push(`scrolls to ${document.documentElement.scrollWidth} px`);
    for (const e of document.querySelectorAll("body *:not(svg *)")) {
      const b = e.getBoundingClientRect();
      if (b.right > wide + 0.5 || b.left < -0.5) out.push(`<${e.localName} class="${e.getAttribute("class") ?? ""}"> lies at ${b.left} to ${b.right}`);
      const holdsText = ["h1", "h2", "h3", "p", "li", "dt", "dd", "td", "th", "caption", "figcaption"].includes(e.localName);
      if (holdsText && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline") {
        out.push(`<${e.localName}> "${e.textContent.slice(0, 30)}" is too narrow for its text`);
      }
    }
    return out.slice(0, 5);
  });
  return out.map((s) => `${name} screen: ${s}`);
}

// printed holds the page on paper to its count of pages and its least letters.
async function printed(page) {
  const faults = [];
  const rims = await page.locator(".card").count();
  for (const format of ["A4", "Letter"]) {
    const pdf = (await page.pdf({ format })).toString("latin1");
    const n = pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
    const most = 2 + Math.ceil(Math.max(0, rims - 2) / 2);
    if (pages > 0 ? n !== pages : n === 0 || n > most) faults.push(`print: ${n} pages of ${format}, want ${pages > 0 ? pages : `at most ${most}`}`);
  }
  await page.setViewportSize({ width: 725, height: 1000 }); // A4 less its margins
  await page.emulateMedia({ media: "print" });
  const small = await page.evaluate((least) => {
    const out = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const e = walk.currentNode.parentElement;
      if (!walk.currentNode.data.trim() || ["title", "desc"].includes(e.localName)) continue;
      let px = parseFloat(getComputedStyle(e).fontSize);
      if (e.ownerSVGElement) {
        const m = e.getScreenCTM();
        px *= Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));
      }
      if (px * 0.75 < least - 0.02) out.push(`"${walk.currentNode.data.trim().slice(0, 30)}" is set in ${(px * 0.75).toFixed(1)} points`);
    }
    return out.slice(0, 5);
  }, leastPt);
  await page.emulateMedia({ media: null });
  return faults.concat(small.map((s) => `print: ${s}`));
}
