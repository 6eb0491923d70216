// The shared page in a real browser, at phone and laptop size: play, step, speed, layers, cards and
// quiz, by pointer and by the keyboard alone; on paper; no error on the console, no request, nothing
// serious by axe-core; and a page with a hostile squad name, in which nothing may run.
//
//   node tests/shared_page.cjs POSSESSION.html HOSTILE.html FOLDER-FOR-PICTURES
// tests/paper_and_page runs it, with playwright-core and axe-core in NODE_PATH.
"use strict";
const fs = require("fs");
const path = require("path");
const { execFileSync } = require("child_process");
const { chromium } = require("playwright-core");
const axe = fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

const [plain, hostile, pictures] = process.argv.slice(2).map((p) => path.resolve(p));
let failed = 0, held = 0;
function claim(words, holds, more) {
  if (!holds) console.log("FAIL " + words + (more === undefined ? "" : ": " + more));
  if (holds) held += 1; else failed += 1;
}

async function opened(browser, file, name, size) {
  const context = await browser.newContext(size);
  await context.setOffline(true);
  const page = await context.newPage();
  page.setDefaultTimeout(8000);
  const seen = { errors: [], requests: [] };
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) seen.errors.push(m.text()); });
  page.on("pageerror", (e) => seen.errors.push(String(e)));
  page.on("request", (r) => { if (r.url() !== "file://" + file) seen.requests.push(r.url()); });
  page.on("dialog", (d) => { seen.errors.push("a dialog: " + d.message()); d.dismiss(); });
  await page.goto("file://" + file);
  return { page, context, seen };
}

async function sticksOut(page) {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

// Nothing serious by axe-core, nothing on the console, nothing fetched.
async function clean(page, name, seen) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document));
  const serious = found.violations.filter((v) => ["serious", "critical"].includes(v.impact));
  const told = found.violations.map((v) => v.impact + " " + v.id + " " + v.nodes.map((n) => n.target).join(" "));
  claim(name + ": nothing serious by axe-core", serious.length === 0, told.join("; "));
  claim(name + ": axe-core looked at something", found.passes.length > 15, found.passes.length);
  console.log(name + ": axe-core has " + found.passes.length + " rules kept, not kept: " + (told.join("; ") || "none"));
  claim(name + ": no error on the console", seen.errors.length === 0, seen.errors.join("; "));
  claim(name + ": nothing is fetched", seen.requests.length === 0, seen.requests.join(" "));
}

async function byPointer(browser, name, size) {
  const { page, context, seen } = await opened(browser, plain, name, size);
  const text = (id) => page.textContent("#" + id);
  const clock = async () => parseFloat(await text("clock"));
  const shot = (what) => page.screenshot({ path: path.join(pictures, `page_${name}_${what}.png`) });
  claim(name + ": nothing sticks out to the side", await sticksOut(page) <= 0, await sticksOut(page));
  const high = await page.$eval("#floor", (e) => e.getBoundingClientRect().height / window.innerHeight);
  claim(name + ": the floor leaves room for what is told", high < (name === "phone_wide" ? 0.92 : 0.72), high);
  const low = await page.$eval("#speed", (e) => e.getBoundingClientRect().bottom / window.innerHeight);
  claim(name + ": the controls are on the first screen", low <= 1, low);
  const small = await page.$$eval("button, select, input[type=range], label.tick", (list) => list.filter((e) => e.getClientRects().length && e.getBoundingClientRect().height < 43.9).map((e) => e.id || e.textContent));
  claim(name + ": everything to touch is 44 px high", small.length === 0, small);
  await page.fill("#time", "100000");
  claim(name + ": the result is shown", /point/.test(await text("result")) && !/^0 points/.test(await text("result")), await text("result"));
  await page.fill("#time", "0");
  claim(name + ": the caution is there", /Warm up first/.test(await text("caution")));
  await shot("start");

  await page.click("#next");
  const first = await clock();
  await page.click("#next");
  const second = await clock();
  claim(name + ": stepping goes from decision to decision", second > first && first > 0, first + " s, " + second + " s");
  await page.click("#back");
  claim(name + ": and back again", await clock() === first, await clock());
  await page.click("#play");
  await page.waitForTimeout(1200);
  const told = await text("play");
  await page.click("#play");
  const played = await clock();
  claim(name + ": it plays in real time, and freezes", told === "Freeze" && played > first + 0.5 && played < first + 3, played - first);
  await page.waitForTimeout(250);
  claim(name + ": frozen it stays", await clock() === played, await clock());
  // Real time and a quarter of it, one after the other: a slow machine is slow at both.
  const pace = async (value) => {
    await page.selectOption("#speed", value);
    await page.fill("#time", "0");
    await page.click("#play");
    const start = Date.now(), from = await clock();
    await page.waitForTimeout(1000);
    await page.click("#play");
    return (await clock() - from) / ((Date.now() - start) / 1000);
  };
  const [whole, quarter] = [await pace("1"), await pace("0.25")];
  claim(name + ": a quarter of the speed is about a quarter", quarter > 0.1 * whole && quarter < 0.45 * whole, whole + ", " + quarter);

  await page.fill("#time", String(Math.round(100 * first)));
  claim(name + ": the light is on", await page.$eval("#light", (g) => g.style.display !== "none" && g.childNodes.length > 100));
  await page.click("#layer-light");
  claim(name + ": the light goes out", await page.$eval("#light", (g) => g.style.display === "none"));
  await page.click("#layer-light");
  const drawn = () => page.$eval("#lines", (g) => g.childNodes.length);
  for (const layer of ["midline", "triangles", "threads"]) {
    const before = await drawn();
    await page.click("#layer-" + layer);
    claim(name + ": the layer " + layer + " draws lines", await drawn() > before, before + ", " + await drawn());
  }
  claim(name + ": what happens is told", (await text("told")).length > 3, await text("told"));
  await shot("layers");

  const cards = await page.$$eval("#rule option", (list) => list.map((o) => o.value));
  await page.selectOption("#rule", cards[cards.length - 1]);
  const shown = await page.$$eval(".card", (list) => list.filter((c) => c.getClientRects().length).map((c) => c.id));
  claim(name + ": one card is shown, the chosen one", shown.length === 1 && shown[0] === cards[cards.length - 1], shown);
  const bare = await page.$$eval(".card", (list) => list.filter((c) => c.querySelectorAll("svg").length !== 2).map((c) => c.id));
  claim(name + ": every card has its two pictures", bare.length === 0, bare);
  await page.locator(".card.on").scrollIntoViewIfNeeded();
  await shot("card");

  await quiz(page, name, shot);
  await clean(page, name, seen);
  claim(name + ": still nothing sticks out", await sticksOut(page) <= 0, await sticksOut(page));
  await context.close();
}

// Where the asked defender really stands, in pixels of the window: from the page's own figures.
async function place(page) {
  return page.evaluate(() => {
    const D = JSON.parse(document.getElementById("data").textContent);
    const asked = /at the (.+)\. You are X(\d)/.exec(document.getElementById("question").textContent);
    const f = D.quiz.find((q) => q.ball === asked[1]).f, me = Number(asked[2]) - 1;
    const svg = document.getElementById("where"), box = svg.getBoundingClientRect(), view = svg.viewBox.baseVal;
    const at = (cm, corner) => (cm / 100 - corner) * D.unit;
    return {
      x: box.left + at(f[14 + 2 * me], D.corner[0]) * box.width / view.width,
      y: box.top + at(f[15 + 2 * me], D.corner[1]) * box.height / view.height,
      corner: { x: box.left + 4, y: box.top + box.height * 0.75 },
    };
  });
}

async function quiz(page, name, shot) {
  const text = () => page.textContent("#question");
  const asked = new Set(), right = [];
  await page.locator("#where").scrollIntoViewIfNeeded();
  const round = Number(/of (\d+)\./.exec(await text())[1]);
  for (let k = 0; k < round; k++) {
    const question = await text();
    asked.add(question.replace(/^Question \d+ of \d+\. /, ""));
    claim(name + ": no answer is told before the end", /^Question/.test(question), question);
    const at = await place(page);
    right.push(k % 2 === 0);
    const tap = right[k] ? at : at.corner;
    await page.mouse.click(tap.x, tap.y);
    if (k === 1) await shot("quiz");
    await page.click("#answer");
  }
  for (let k = 0; k < round; k++) {
    const said = await text();
    if (right[k]) claim(name + ": a right answer is right", /Right there: 0\.\d (ft|m) off\./.test(said), said);
    else claim(name + ": a wrong answer is not, and says which way", !/Right there/.test(said) && /too (near|far|deep|high)/.test(said), said);
    claim(name + ": the mean is told", /Mean of \d/.test(said), said);
    if (k === 1) await shot("answer");
    await page.click("#answer");
  }
  claim(name + ": every question is another", asked.size === round, asked.size);
}

// No pointer at all: Tab, arrows, space and Enter.
async function byKeyboard(browser) {
  const name = "keyboard";
  const { page, context, seen } = await opened(browser, plain, name, { viewport: { width: 1280, height: 800 } });
  const text = (id) => page.textContent("#" + id);
  const press = (key) => page.keyboard.press(key);
  const focused = () => page.evaluate(() => document.activeElement.id);
  await press("ArrowRight");
  const first = parseFloat(await text("clock"));
  claim(name + ": the arrow steps without anything chosen", first > 0, first);
  await press(" ");
  claim(name + ": space plays", await text("play") === "Freeze");
  await press(" ");
  claim(name + ": space freezes", await text("play") === "Play");
  const order = [], hidden = [];
  for (let i = 0; i < 40; i += 1) {
    await press("Tab");
    const id = await focused();
    if (!id || order.includes(id)) break;
    order.push(id);
    const ring = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
    if (ring === "none") hidden.push(id);
  }
  const wanted = ["time", "play", "back", "next", "speed", "layer-light", "layer-threads", "layer-midline", "layer-triangles",
    "rule", "go-left", "go-right", "go-up", "go-down", "answer"];
  claim(name + ": Tab reaches everything, in order", JSON.stringify(order) === JSON.stringify(wanted), order);
  claim(name + ": what is chosen is seen to be", hidden.length === 0, hidden);
  const go = async (id) => {
    for (let i = 0; i < 40 && await focused() !== id; i += 1) await press("Tab");
    claim(name + ": Tab comes to " + id, await focused() === id, await focused());
  };
  await go("play");
  await press("Enter");
  claim(name + ": Enter on the button plays", await text("play") === "Freeze");
  await press("Enter");
  await go("time");
  const before = parseFloat(await text("clock"));
  await press("End");
  claim(name + ": the slider goes to the end", parseFloat(await text("clock")) > before, await text("clock"));
  await go("layer-midline");
  await press(" ");
  claim(name + ": space switches a layer on", await page.isChecked("#layer-midline"));
  await go("rule");
  await press("ArrowDown");
  claim(name + ": the arrow turns to the next card", await page.$eval(".card.on", (c) => c.id) === "card-1", await page.$eval(".card.on", (c) => c.id));
  await go("go-down");
  const cross = () => page.$eval("#asked g:last-of-type", (g) => g.getAttribute("transform"));
  const from = await cross();
  await press("Enter");
  claim(name + ": the cross is moved", await cross() !== from, from);
  await go("answer");
  while (/^Question/.test(await text("question"))) await press("Enter");
  claim(name + ": the quiz answers at the end", /^Answer 1 .* off/.test(await text("question")), await text("question"));
  const tree = await page.locator("body").ariaSnapshot();
  for (const said of ['region "Watch one possession"', 'button "Play"', 'slider "Time of the possession"', 'combobox "Speed"',
    'checkbox "midline"', 'combobox "Rule"', 'heading "Where do I stand?"', 'button "Next answer"']) {
    claim(name + ": a screen reader finds " + said, tree.includes(said));
  }
  const live = await page.$$eval("[aria-live=polite]", (list) => list.map((e) => e.id));
  claim(name + ": what happens is said aloud", live.includes("told") && live.includes("question"), live);
  await clean(page, name, seen);
  await context.close();
}

async function onPaper(browser) {
  const { page, context, seen } = await opened(browser, plain, "paper", { viewport: { width: 1280, height: 800 } });
  await page.emulateMedia({ media: "print" });
  const there = (what) => page.$$eval(what, (list) => list.filter((e) => e.getClientRects().length).length);
  claim("paper: no buttons, no quiz", await there("button, select, input, #quiz") === 0);
  claim("paper: every card is there", await there(".card") === await page.$$eval(".card", (l) => l.length));
  claim("paper: the caution is there", await there("#caution") === 1);
  const ink = await page.evaluate(() => [getComputedStyle(document.body).color, getComputedStyle(document.body).backgroundColor]);
  claim("paper: black on white", ink[0] === "rgb(0, 0, 0)" && ink[1] === "rgb(255, 255, 255)", ink);
  await page.pdf({ path: path.join(pictures, "page_printed.pdf"), format: "A4", printBackground: false });
  const text = execFileSync("pdftotext", ["-raw", path.join(pictures, "page_printed.pdf"), "-"], { encoding: "utf8" });
  const pages = text.split("\f").slice(0, -1);
  const without = pages.filter((p) => !/Warm up first\. Stop on an injury/.test(p.replace(/\s+/g, " ")));
  claim("paper: the caution is on every page", pages.length > 1 && without.length === 0, without.length + " of " + pages.length);
  claim("paper: no error", seen.errors.length === 0, seen.errors.join("; "));
  await context.close();
}

async function hostileName(browser) {
  const name = "hostile";
  const { page, context, seen } = await opened(browser, hostile, name, { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true });
  const ran = await page.evaluate(() => [window.ran, document.querySelectorAll("body script").length, document.images.length, document.querySelectorAll("iframe,object,embed,b,a").length]);
  claim(name + ": nothing of it runs or is drawn", ran[0] === undefined && ran[1] === 2 && ran[2] === 0 && ran[3] === 0, JSON.stringify(ran));
  const words = await page.evaluate(() => document.body.textContent);
  claim(name + ": it is shown as what it is", words.includes("<script>window.ran=1</script>"), words.slice(0, 300));
  claim(name + ": no mark turns the writing", !/[\u200b-\u200f\u202a-\u202e\u2066-\u2069]/.test(words));
  claim(name + ": nothing sticks out to the side", await sticksOut(page) <= 0, await sticksOut(page));
  await page.click("#next");
  await page.click("#answer");
  await page.screenshot({ path: path.join(pictures, "page_hostile.png") });
  await clean(page, name, seen);
  await context.close();
}

(async () => {
  // With a fresh folder of its own, which goes when it is closed.
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"],
  });
  try {
    await byPointer(browser, "phone", { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true });
    await byPointer(browser, "phone_wide", { viewport: { width: 844, height: 390 }, isMobile: true, hasTouch: true });
    await byPointer(browser, "laptop", { viewport: { width: 1280, height: 800 } });
    await byKeyboard(browser);
    await onPaper(browser);
    await hostileName(browser);
  } catch (error) {
    claim("the browser went through", false, error);
  } finally {
    await browser.close();
  }
  console.log(`${held} claims hold, ${failed} do not`);
  process.exit(failed ? 1 : 0);
})();
