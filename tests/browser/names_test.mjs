// Whose name is it? In every picture of the drive, wherever it is printed, a reader has to know: a
// number or a name stands in or at its own pulley, nearer to it than to any other, or a line leads
// there. Every part is named or none; where none is, a list tells what the numbers stand for.
import assert from "node:assert/strict";
import fs from "node:fs";
import { command, demos, openedInTurn, randomDrives, run, withoutPlaces, written } from "./bench.mjs";

const RANDOM = 12;
const CLEARLY_MM = 0.5; // nearer by this, and a reader need not compare
const AT_MM = 1.5; // a line's end is at what it stands so near to
const IDLE_LINE_MM = 0.3;
const LINE_MM = 4; // from one line of a label to the next, less what they overlap
const LEGIBLE_MM = 12; // of a pulley on a sheet: its mark can be read at arm's length
const ROUNDED_MM = 0.05;

const profiles = [...demos().map(([name, file]) => [name, fs.readFileSync(file, "utf8")]), ...randomDrives(RANDOM)];

/** [{where, file, order: names in the order in which the belt goes on, or in that of the list}] */
const made = [];
for (const [name, profile] of profiles) {
  const put = (kind, args, text, order) => {
    const file = written(`${name}-${kind}.html`, "");
    command([...args, "-", "-o", file, "--force"], { input: text });
    made.push({ where: `${name}, ${kind}`, kind, file, order });
  };
  const listed = [...profile.matchAll(/^\[\[pulley\]\]\nname = "(.*)"/gm)].map((found) => found[1]);
  if (name === "roadside-counts") {
    put("draw", ["draw"], profile, listed);
    put("sheet", ["sheet"], profile, listed);
    continue;
  }
  // Against the belt's travel from the crank on, so that the tight side goes on first.
  const [crank, ...rest] = JSON.parse(command(["route", "-", "--json"], { input: profile })).pulleys.map((one) => one.name);
  const order = [crank, ...rest.reverse()];
  put("draw", ["draw"], profile, order);
  put("draw turned", ["draw", "--crank", "137.3"], profile, order);
  put("true size", ["draw", "--true-size"], profile, order);
  put("sheet", ["sheet"], profile, order);
  put("report", ["report"], profile, order);
  const at = listed.indexOf(crank);
  put("threading", ["draw"], withoutPlaces(profile), [...listed.slice(at), ...listed.slice(0, at)]);
}

/** In the page: every picture that has pulleys, all in mm of its own paper. */
function looked() {
  return [...document.querySelectorAll("svg")].map((svg) => {
    const own = svg.getScreenCTM().inverse();
    const put = (element, x, y) => {
      const point = new DOMPoint(x, y).matrixTransform(element.getScreenCTM()).matrixTransform(own);
      return [point.x, point.y];
    };
    const boxed = (element) => {
      const box = element.getBBox();
      const [one, two] = [put(element, box.x, box.y), put(element, box.x + box.width, box.y + box.height)];
      return { left: Math.min(one[0], two[0]), right: Math.max(one[0], two[0]), top: Math.min(one[1], two[1]), foot: Math.max(one[1], two[1]) };
    };
    const texts = [...svg.querySelectorAll("text")].map((text) => ({
      text: text.textContent, group: text.closest("g")?.getAttribute("class") ?? "", box: boxed(text),
    }));
    // A number stands in a ring.
    const rings = [...svg.querySelectorAll(".labels > circle")].map(boxed);
    for (const text of texts) {
      const [x, y] = [(text.box.left + text.box.right) / 2, (text.box.top + text.box.foot) / 2];
      const ring = rings.find((box) => box.left < x && x < box.right && box.top < y && y < box.foot);
      if (ring) text.box = ring;
    }
    const pulleys = [...svg.querySelectorAll(".pulley[data-x]")].map((pulley) => {
      const box = boxed(pulley.querySelector("path, circle"));
      return { name: pulley.querySelector("title").textContent, at: put(svg, Number(pulley.dataset.x), Number(pulley.dataset.y)),
        radius: Math.max(box.right - box.left, box.foot - box.top) / 2, toothed: Boolean(pulley.querySelector("path.tooth")) };
    });
    const lines = [...svg.querySelectorAll(".labels > path.line")].map((line) =>
      [...line.getAttribute("d").matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => put(line, Number(x), Number(y))));
    return { texts, pulleys, lines };
  });
}

const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const fromBox = (box, [x, y]) => Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.foot));
const around = (boxes) => ({
  left: Math.min(...boxes.map((box) => box.left)), right: Math.max(...boxes.map((box) => box.right)),
  top: Math.min(...boxes.map((box) => box.top)), foot: Math.max(...boxes.map((box) => box.foot)),
});

/** Empty if a reader knows that the words in the box are this pulley's, else why not. */
function doubt(box, pulley, picture) {
  const off = (one) => Math.max(0, fromBox(box, one.at) - one.radius);
  const others = picture.pulleys.filter((one) => one !== pulley);
  const near = others.filter((one) => off(one) < off(pulley) + CLEARLY_MM &&
    !(off(pulley) === 0 && off(one) > 0) && !(off(pulley) === 0 && fromBox(box, pulley.at) + CLEARLY_MM < fromBox(box, one.at)));
  if (near.length === 0) return "";
  const led = picture.lines.some((line) => line.length === 2 && apart(...line) > IDLE_LINE_MM &&
    [line, [...line].reverse()].some(([words, part]) => fromBox(box, words) < AT_MM &&
      Math.abs(apart(part, pulley.at) - pulley.radius) < AT_MM &&
      others.every((one) => Array.from({ length: 41 }, (_, k) => k / 40).every((share) =>
        apart([words[0] + share * (part[0] - words[0]), words[1] + share * (part[1] - words[1])], one.at) > one.radius))));
  return led ? "" : `${off(pulley).toFixed(1)} mm from its own, ${near.map((one) => `${off(one).toFixed(1)} mm from ${one.name}`)}`;
}

/** The box of a label: a name's lines and those centred under it, which are read as one. */
function labelBox(boxes, texts) {
  const own = around(boxes);
  const middle = (own.left + own.right) / 2;
  for (const { box } of texts) {
    const under = box.top > own.top && box.top < own.foot + LINE_MM;
    if (under && Math.abs((box.left + box.right) / 2 - middle) < LINE_MM / 8) Object.assign(own, around([own, box]));
  }
  return own;
}

/** The boxes of a name's lines where it stands at the parts, else none. */
function nameBoxes(name, texts) {
  const wanted = name.replaceAll(" ", "");
  for (let first = 0; first < texts.length; first += 1) {
    let words = "";
    for (let last = first; last < texts.length && words.length < wanted.length; last += 1) {
      words += texts[last].text.replaceAll(" ", "");
      if (words === wanted) return texts.slice(first, last + 1).map((text) => text.box);
    }
  }
  return [];
}

function faultsOf(picture, { where, kind, order }) {
  const faults = [];
  const atParts = picture.texts.filter((text) => ["labels", ""].includes(text.group));
  const list = picture.texts.filter((text) => text.group !== "labels").map((text) => text.text).join("").replaceAll(" ", "");
  let named = 0;
  for (const pulley of picture.pulleys) {
    if (kind === "sheet" && pulley.toothed && pulley.radius < LEGIBLE_MM / 2 - ROUNDED_MM) {
      faults.push(`${where}: "${pulley.name}" is ${(2 * pulley.radius).toFixed(1)} mm wide`);
    }
    const boxes = nameBoxes(pulley.name, kind === "true size" ? atParts : picture.texts.filter((text) => text.group === "labels"));
    if (boxes.length > 0) {
      named += 1;
      const why = doubt(labelBox(boxes, atParts), pulley, picture);
      if (why) faults.push(`${where}: the name "${pulley.name}": ${why}`);
    }
    if (kind === "true size") continue;
    const number = String(order.indexOf(pulley.name) + 1);
    const numbers = picture.texts.filter((text) => text.group === "labels" && text.text === number);
    if (numbers.length === 0) {
      faults.push(`${where}: no ${number} for "${pulley.name}"`);
      continue;
    }
    const whys = numbers.map((text) => doubt(text.box, pulley, picture));
    if (!whys.includes("")) faults.push(`${where}: ${number} of "${pulley.name}": ${whys[0]}`);
    if (boxes.length === 0 && !list.includes(number + pulley.name.replaceAll(" ", ""))) {
      faults.push(`${where}: nothing tells that ${number} is "${pulley.name}"`);
    }
  }
  if (kind !== "true size" && named > 0 && named < picture.pulleys.length) {
    faults.push(`${where}: ${named} of ${picture.pulleys.length} are named`);
  }
  return faults;
}

await run({
  "a sheet without its picture is none": async () => {
    const sheets = made.filter(({ kind }) => kind === "sheet");
    const bare = sheets.filter(({ file }) => !fs.readFileSync(file, "utf8").includes('<figure class="view">'));
    assert.deepEqual(bare.map(({ where }) => where), []);
    assert.equal(sheets.length, profiles.length);
  },

  "every number and name is its own pulley's, in every picture": async (browser) => {
    const faults = [];
    let pictures = 0;
    await openedInTurn(browser, made.map(({ file }) => file), async (page, which) => {
      const least = made[which].kind === "true size" ? 1 : 2; // of two on two pages, one each
      const found = (await page.evaluate(looked)).filter((picture) => picture.pulleys.length >= least);
      assert.ok(found.length > 0, `${made[which].where}: a picture of the drive`);
      pictures += found.length;
      for (const picture of found) faults.push(...faultsOf(picture, made[which]));
    });
    assert.ok(pictures >= made.length);
    assert.ok(faults.length === 0, `${faults.length} faults:\n  ${faults.slice(0, 60).join("\n  ")}`);
  },
});
