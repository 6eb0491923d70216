// The shared page in a real browser: play, step, cards, quiz, by mouse and by keyboard; no error on
// the console, no request, nothing serious by axe-core, phone and laptop size, and on paper.
//
// Needs Debian's chromium, and puppeteer-core and axe-core from npm in some folder:
//   NODE_PATH=FOLDER/node_modules node tests/shared_page.cjs possession.html [FOLDER FOR PICTURES]
"use strict";
const fs = require("fs");
const path = require("path");
const puppeteer = require("puppeteer-core");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const file = "file://" + path.resolve(process.argv[2]);
const pictures = process.argv[3];
let failed = 0;
function claim(words, holds, more) {
  console.log((holds ? "ok   " : "FAIL ") + words + (more === undefined ? "" : ": " + more));
  if (!holds) failed += 1;
}
const wait = (ms) => new Promise((done) => setTimeout(done, ms));

async function look(browser, name, width, height) {
  const page = await browser.newPage();
  const errors = [], requests = [];
  page.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") errors.push(m.text()); });
  page.on("pageerror", (e) => errors.push(String(e)));
  page.on("request", (r) => { if (r.url() !== file) requests.push(r.url()); });
  page.on("dialog", (d) => { errors.push("a dialog"); d.dismiss(); });
  await page.setViewport({ width, height, deviceScaleFactor: 1 });
  await page.goto(file);
  const text = (id) => page.$eval("#" + id, (e) => e.textContent);
  const shot = async (what) => {
    if (pictures) await page.screenshot({ path: path.join(pictures, `${name}_${what}.png`) });
  };
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  claim(name + ": nothing sticks out to the side", wide <= 0, wide);
  await shot("start");

  await page.click("#next");
  const first = parseFloat(await text("clock"));
  await page.click("#next");
  const second = parseFloat(await text("clock"));
  claim(name + ": stepping goes from decision to decision", second > first && first > 0, first + " s, " + second + " s");
  await page.click("#back");
  claim(name + ": and back again", parseFloat(await text("clock")) === first);
  await page.click("#play");
  await wait(1200);
  const told = await text("play");
  await page.click("#play");
  const played = parseFloat(await text("clock"));
  claim(name + ": it plays in real time, and freezes", told === "Freeze" && played > first + 0.6 && played < first + 2.5, played - first);
  await wait(300);
  claim(name + ": frozen it stays", parseFloat(await text("clock")) === played);
  await page.select("#speed", "0.25");
  await page.click("#play");
  await wait(1200);
  await page.click("#play");
  const slow = parseFloat(await text("clock")) - played;
  claim(name + ": a quarter of the speed is slower", slow > 0.05 && slow < 0.8, slow);
  for (const layer of ["threads", "midline", "triangles"]) await page.click("#layer-" + layer);
  const lines = await page.$eval("#lines", (g) => g.childNodes.length);
  claim(name + ": the layers are drawn", lines > 3, lines);
  claim(name + ": what happens is told", (await text("told")).length > 3, await text("told"));
  await shot("layers");
  await page.evaluate(() => document.activeElement.blur());
  const before = parseFloat(await text("clock"));
  await page.keyboard.press("ArrowRight");
  claim(name + ": the arrow key steps", parseFloat(await text("clock")) > before);
  await page.keyboard.press(" ");
  claim(name + ": space plays", (await text("play")) === "Freeze");
  await page.keyboard.press(" ");

  const cards = await page.$$eval("#rule option", (list) => list.map((o) => o.value));
  await page.select("#rule", cards[cards.length - 1]);
  const shown = await page.$$eval(".card", (list) => list.filter((c) => c.offsetParent).map((c) => c.id));
  claim(name + ": one card is shown, the chosen one", shown.length === 1 && shown[0] === cards[cards.length - 1], shown);

  const seen = new Set();
  for (let i = 0; i < 4; i += 1) {
    seen.add(await text("question"));
    await page.click("#go-down");
    await page.click("#go-right");
    const box = await (await page.$("#where")).boundingBox();
    await page.click("#where", { offset: { x: box.width * 0.5, y: box.height * 0.3 } });
    if (i === 1) await (await page.$("#where")).scrollIntoView();
    if (i === 1) await shot("quiz");
    await page.click("#answer");
    const said = await text("question");
    claim(name + ": the quiz answers", /off/.test(said) && /Mean of/.test(said), said);
    if (i === 1) await shot("answer");
    await page.click("#answer");
  }
  claim(name + ": every question is another", seen.size === 4, seen.size);

  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document));
  const serious = found.violations.filter((v) => ["serious", "critical"].includes(v.impact));
  claim(name + ": nothing serious by axe-core", serious.length === 0,
    found.violations.map((v) => v.impact + " " + v.id + " " + v.nodes.map((n) => n.target).join(" ")).join("; ") || "nothing at all");
  claim(name + ": no error on the console", errors.length === 0, errors.join("; ") || "none");
  claim(name + ": nothing is fetched", requests.length === 0, requests.join(" ") || "nothing");
  if (pictures && name === "laptop") {
    await page.emulateMediaType("print");
    await page.pdf({ path: path.join(pictures, "printed.pdf"), format: "A4", printBackground: true });
  }
  await page.close();
}

(async () => {
  const browser = await puppeteer.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu"] });
  try {
    await look(browser, "phone", 390, 844);
    await look(browser, "laptop", 1280, 800);
  } finally {
    await browser.close();
  }
  console.log(failed ? failed + " claims do not hold" : "all claims hold");
  process.exit(failed ? 1 : 0);
})();
