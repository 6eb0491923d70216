// What is printed, read back by two independent readers (poppler and mupdf): pages and their size,
// embedded fonts, the same words in both, the caution on every page, ink on every page without
// colour, and every figure of the practice sheet against the report's own JSON.
//
//   node tests/printed.cjs FOLDER        with FOLDER/a4, letter, hostile (packs) and why.json
// tests/paper_and_page runs it.
"use strict";
const fs = require("fs");
const path = require("path");
const { execFileSync } = require("child_process");

const folder = process.argv[2];
let failed = 0, held = 0;
function claim(words, holds, more) {
  if (!holds) console.log("FAIL " + words + (more === undefined ? "" : ": " + more));
  if (holds) held += 1; else failed += 1;
}
// What a reader has to grumble about (mupdf: no colour profiles) is shown only if it gives up.
const run = (program, ...rest) => execFileSync(program, rest, { encoding: "utf8", maxBuffer: 1 << 26, stdio: ["ignore", "pipe", "pipe"] });
const words = (text) => text.split(/\s+/).filter(Boolean);

const SIZES = { a4: /595(\.\d+)? x 842|595\.2\d+ x 841\.\d+/, letter: /612 x 792/ };
const FILES = {
  "practice_sheet.pdf": { most: 3, says: ["What was found", "Looks to rehearse", "Shell drill for the defenders", "Plan for 75 minutes", "Small hall", "Bring both balls"] },
  "rule_cards.pdf": { most: 17, says: ["rule cards", "cut ball side to the rim", "Solid arrow: run"] },
  "shell.pdf": { most: 10, says: ["Ball: slot", "Ball: wing", "A step", "Scouting: Help line", "What it gives"] },
  "phase.pdf": { most: 1, says: ["Possession 1, from"] },
};

function readBack(size, name, wanted) {
  const file = path.join(folder, size, name), what = size + " " + name;
  const info = run("pdfinfo", file);
  const pages = Number(/Pages:\s+(\d+)/.exec(info)[1]);
  claim(what + ": so many pages at most", pages >= 1 && pages <= wanted.most, pages);
  claim(what + ": the size of the paper", SIZES[size].test(/Page size:.*/.exec(info)[0]), /Page size:.*/.exec(info)[0]);
  const fonts = run("pdffonts", file).trim().split("\n").slice(2);
  const loose = fonts.filter((line) => !/ yes yes yes | yes yes no | yes no /.test(line));
  claim(what + ": fonts are embedded, and are our own", fonts.length > 0 && loose.length === 0 && fonts.every((f) => /Lanelight/.test(f)), fonts.join(" | "));
  // mupdf reports the fonts, too, and what it cannot find in the file.
  const told = run("mutool", "info", "-F", file);
  claim(what + ": mupdf finds the fonts", /Lanelight/.test(told), told);
  const poppler = run("pdftotext", "-raw", file, "-").split("\f").slice(0, pages);
  const mupdf = run("mutool", "draw", "-q", "-F", "txt", file).split("\f").slice(0, pages);
  claim(what + ": both readers find every page", poppler.length === pages && mupdf.length === pages, poppler.length + ", " + mupdf.length + " of " + pages);
  for (let i = 0; i < pages; i += 1) {
    const [a, b] = [words(poppler[i]).sort(), words(mupdf[i] || "").sort()];
    const odd = a.filter((w) => !b.includes(w)).concat(b.filter((w) => !a.includes(w)));
    claim(`${what}, page ${i + 1}: both readers find the same words`, a.length > 10 && JSON.stringify(a) === JSON.stringify(b), odd.slice(0, 12).join(" ") + ` (${a.length}, ${b.length})`);
    const caution = /Warm up first\. Stop on an injury or a suspected concussion\./;
    claim(`${what}, page ${i + 1}: the caution`, caution.test(poppler[i].replace(/\s+/g, " ")));
  }
  const whole = [poppler, mupdf].map((t) => words(t.join(" ")).join(" "));
  const date = size === "letter" ? "Date: Friday, 6 March" : "Date: Thursday, 5 March";
  if (name === "practice_sheet.pdf") claim(`${what}: an argument goes before the scenario`, whole.every((t) => t.includes(date)));
  for (const said of wanted.says) claim(`${what} says “${said}”`, whole.every((t) => t.includes(said)));
  grey(file, what, pages);
  return whole[0];
}

// Rendered without colour: true black on white, and neither empty nor a blot.
function grey(file, what, pages) {
  const stem = path.join(folder, "grey");
  run("pdftoppm", "-gray", "-r", "72", file, stem);
  const all = fs.readdirSync(folder).filter((n) => /^grey-\d+\.pgm$/.test(n)).sort();
  claim(what + ": every page is rendered", all.length === pages, all.length);
  for (const name of all) {
    const bytes = fs.readFileSync(path.join(folder, name));
    fs.unlinkSync(path.join(folder, name));
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString("latin1"));
    const pixels = bytes.subarray(head[0].length);
    let dark = 0, least = 255;
    for (const p of pixels) { if (p < 128) dark += 1; if (p < least) least = p; }
    const share = dark / pixels.length;
    claim(`${what}, ${name}: black ink, and not too much`, least < 40 && share > 0.003 && share < 0.25, `${least}, ${share.toFixed(4)}`);
  }
}

// Every interval at the end of the sheet is that of an estimate of the report whose value is printed in a sentence.
function traced(text, summary, size) {
  const list = /Each number's 95 % interval, in the order in which they stand: (.*?)\.(?: |$)/.exec(text);
  const all = list ? [...list[1].matchAll(/(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)/g)] : [];
  const by = { "%": 100, points: 100, s: 1, m: 1, ft: 1 / 0.3048 };
  const shown = [...text.matchAll(/(\d+(?:\.\d+)?) (%|s|points|ft|m)(?![A-Za-z])/g)];
  const estimates = [];
  const walk = (v) => {
    if (v === null || typeof v !== "object") return;
    if (["value", "low", "high"].every((k) => typeof v[k] === "number")) estimates.push(v);
    Object.values(v).forEach(walk);
  };
  walk(summary);
  for (const [interval, low, high] of all) {
    const decimals = (low.split(".")[1] || "").length;
    // A half may be rounded either way.
    const near = (s, v) => Math.abs(v - Number(s)) < 0.5 * 10 ** -decimals + 1e-9;
    const said = ([, value, unit]) => (value.split(".")[1] || "").length === decimals
      && estimates.some((e) => near(value, e.value * by[unit]) && near(low, e.low * by[unit]) && near(high, e.high * by[unit]));
    claim(`${size}: ${interval} is the interval of a figure on the sheet`, shown.some(said), estimates.length + " estimates");
  }
  claim(size + ": there are figures on the sheet", all.length >= 8, all.length);
}

const why = JSON.parse(fs.readFileSync(path.join(folder, "why.json"), "utf8"));
for (const size of ["a4", "letter"]) {
  for (const [name, wanted] of Object.entries(FILES)) {
    const text = readBack(size, name, wanted);
    if (name === "practice_sheet.pdf") traced(text, why, size);
  }
}
const evil = run("pdftotext", "-raw", path.join(folder, "hostile", "practice_sheet.pdf"), "-");
claim("hostile: it is shown as what it is", words(evil).join("").includes("<script>"), evil.slice(0, 300));
claim("hostile: no mark turns the writing", !/[\u200b-\u200f\u202a-\u202e\u2066-\u2069]/.test(evil));
claim("hostile: no page more than usual", Number(/Pages:\s+(\d+)/.exec(run("pdfinfo", path.join(folder, "hostile", "practice_sheet.pdf")))[1]) <= 3);
for (const name of ["moment.svg", "phase.svg"]) {
  const text = fs.readFileSync(path.join(folder, "hostile", name), "utf8");
  claim("hostile " + name + ": no script", !/<script|onload|onerror|javascript:/.test(text));
}
console.log(`${held} claims hold, ${failed} do not`);
process.exit(failed ? 1 : 0);
