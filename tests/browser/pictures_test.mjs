// The pictures of draw in a browser: what is rendered where, whether words can be read, and paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import zlib from "node:zlib";
import {
  axe, command, demos, htmlFaults, opened, openedInTurn, pdfInfo, printed, randomDrives, root, run, withoutPlaces, written,
} from "./bench.mjs";

// Common practice: capitals of 2.5 mm can be read on a bench.
const LEAST_CAPITALS_MM = 2.5;
const A4_MM = [210, 297];
// The frame of a page at full size lies this far inside the paper.
const WHITE_MM = 10;
const KINDS = ["", "--true-size", "--degree-wheel", "--belt-strip"];
const RANDOM = 20;
// Demos rendered pixel for pixel: it takes seconds each.
const DRAWN = ["cam-bench", "hill-climb-saloon", "night-bakery-van", "orchard-sprayer", "valley-rescue-v6"];

const profiles = [...demos().map(([name, file]) => [name, fs.readFileSync(file, "utf8")]), ...randomDrives(RANDOM)];
const placed = profiles.filter(([name]) => name !== "roadside-counts");

/** Every picture of every kind: [{name, profile, kind, file}]. */
const made = [];
for (const [name, profile] of profiles) {
  for (const kind of KINDS) {
    if (name === "roadside-counts" && ["--true-size", "--belt-strip"].includes(kind)) continue;
    if (name.startsWith("random") && kind === "--degree-wheel") continue;
    const file = written(`${name}${kind}.html`, "");
    command(["draw", "-", "-o", file, "--force", ...(kind ? [kind] : [])], { input: profile });
    made.push({ name, profile, kind, file });
  }
}
for (const [name, profile] of placed.slice(0, 16)) {
  const file = written(`${name}-turned.html`, "");
  command(["draw", "-", "-o", file, "--force", "--crank", "137.3"], { input: profile });
  made.push({ name: `${name} turned`, profile, kind: "", file });
  const threading = written(`${name}-threading.html`, "");
  command(["draw", "-", "-o", threading, "--force"], { input: withoutPlaces(profile) });
  made.push({ name: `${name} threading`, profile, kind: "threading", file: threading });
}

/** In the page: every picture with its texts (boxes in mm of its own paper) and what else is asked. */
function looked() {
  const pen = document.createElement("canvas").getContext("2d");
  return [...document.querySelectorAll("svg")].map((svg) => {
    const [, , wide, high] = svg.getAttribute("viewBox").split(" ").map(Number);
    const own = svg.getScreenCTM().inverse();
    const onPaper = (element) => (x, y) => {
      const point = new DOMPoint(x, y).matrixTransform(element.getScreenCTM()).matrixTransform(own);
      return [point.x, point.y];
    };
    const texts = [...svg.querySelectorAll("text")].map((text) => {
      const box = text.getBBox();
      const put = onPaper(text);
      const corners = [[box.x, box.y], [box.x + box.width, box.y], [box.x + box.width, box.y + box.height],
        [box.x, box.y + box.height]].map(([x, y]) => put(x, y));
      const style = getComputedStyle(text);
      pen.font = `${style.fontWeight} 1000px ${style.fontFamily}`;
      return {
        text: text.textContent,
        group: text.closest("g")?.getAttribute("class") ?? "",
        corners,
        capitals_mm: (parseFloat(style.fontSize) * pen.measureText("H").actualBoundingBoxAscent) / 1000,
      };
    });
    const lines = (kind) => [...svg.querySelectorAll(`.${kind} > path.line`)].map((line) =>
      [...line.getAttribute("d").matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]));
    const pulleys = [...svg.querySelectorAll(".pulley[data-x]")].map((pulley) => {
      const box = pulley.querySelector("path, circle").getBBox();
      return {
        name: pulley.querySelector("title").textContent,
        at: [Number(pulley.dataset.x), Number(pulley.dataset.y)],
        radius: Math.max(box.width, box.height) / 2,
      };
    });
    const cells = [...svg.querySelectorAll(".page-map > path.thin")].map((cell) => {
      const box = cell.getBBox();
      return { x: box.x, y: box.y, dark: cell.getAttribute("fill") === "#000" };
    });
    const dark = cells.find((cell) => cell.dark);
    const step = (axis) => [...new Set(cells.map((cell) => Math.round(cell[axis] * 100)))].sort((a, b) => a - b);
    const colours = new Set();
    for (const element of svg.querySelectorAll("*")) {
      const style = getComputedStyle(element);
      for (const value of [style.fill, style.stroke, style.color, style.backgroundColor]) {
        if (value?.startsWith("rgb")) colours.add(value);
      }
    }
    return {
      colours: [...colours],
      cell: dark ? ["x", "y"].map((axis) => step(axis).indexOf(Math.round(dark[axis] * 100))) : null,
      size: [wide, high],
      printed: [svg.getAttribute("width"), svg.getAttribute("height")],
      texts,
      pulleys,
      lines: Object.fromEntries(["crosses", "centre", "check-bar", "labels"].map((kind) => [kind, lines(kind)])),
    };
  });
}

// Which are printed too: every demo's, and of the random ones a few.
const onPaper = ({ name, kind }) =>
  !name.startsWith("random") || (kind !== "--true-size" && /random-0[3-7]/.test(name));

let seen = null;
/** Every picture looked at, and those for paper printed, once: {pdf} where it was. */
async function all(browser) {
  if (seen) return seen;
  const found = [];
  await openedInTurn(browser, made.map(({ file }) => file), async (page, which) => {
    const one = made[which];
    const pages = await page.evaluate(looked);
    assert.ok(pages.length > 0, one.file);
    const pdf = onPaper(one) ? await printed(page, `${one.name}${one.kind}`) : null;
    pages.forEach((paper, index) => found.push({ ...one, ...paper, pdf, where: `${one.name} ${one.kind} page ${index + 1}` }));
  });
  seen = found;
  return seen;
}

/** Tells every fault of a list at once. */
function none(faults) {
  assert.ok(faults.length === 0, `${faults.length} faults:\n  ${faults.slice(0, 60).join("\n  ")}`);
}

/** Whether two boxes, each four corners, lie over each other by more than a hair: no axis parts them. */
function overlap(one, two) {
  const HAIR_MM = 0.05;
  for (const [a, b] of [[one, two], [two, one]]) {
    for (const k of [0, 1]) {
      const side = [a[k + 1][0] - a[k][0], a[k + 1][1] - a[k][1]];
      const length = Math.hypot(...side) || 1;
      const along = (corner) => (corner[0] * side[0] + corner[1] * side[1]) / length;
      const [lowA, highA] = [Math.min(...a.map(along)), Math.max(...a.map(along))];
      const [lowB, highB] = [Math.min(...b.map(along)), Math.max(...b.map(along))];
      if (highA <= lowB + HAIR_MM || highB <= lowA + HAIR_MM) return false;
    }
  }
  return true;
}

function boxOf(corners) {
  const x = corners.map((corner) => corner[0]);
  const y = corners.map((corner) => corner[1]);
  return { left: Math.min(...x), right: Math.max(...x), top: Math.min(...y), foot: Math.max(...y) };
}

function fromBox(box, [x, y]) {
  return Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.foot));
}

/** A PNG's pixels as {width, height, at(x, y) -> [r, g, b]}: 8 bits, RGB or RGBA, not interlaced. */
function decoded(png) {
  const width = png.readUInt32BE(16);
  const height = png.readUInt32BE(20);
  const channels = { 2: 3, 6: 4 }[png[25]];
  assert.ok(png[24] === 8 && channels && png[28] === 0, "an ordinary PNG");
  const parts = [];
  for (let at = 8; at < png.length;) {
    const length = png.readUInt32BE(at);
    if (png.toString("latin1", at + 4, at + 8) === "IDAT") parts.push(png.subarray(at + 8, at + 8 + length));
    at += length + 12;
  }
  const raw = zlib.inflateSync(Buffer.concat(parts));
  const row = width * channels;
  const pixels = Buffer.alloc(row * height);
  for (let y = 0; y < height; y += 1) {
    const filter = raw[y * (row + 1)];
    if (filter === 0) {
      raw.copy(pixels, y * row, y * (row + 1) + 1, (y + 1) * (row + 1));
      continue;
    }
    for (let x = 0; x < row; x += 1) {
      const left = x >= channels ? pixels[y * row + x - channels] : 0;
      const up = y > 0 ? pixels[(y - 1) * row + x] : 0;
      const corner = x >= channels && y > 0 ? pixels[(y - 1) * row + x - channels] : 0;
      const guess = left + up - corner;
      const [a, b, c] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)];
      const paeth = a <= b && a <= c ? left : b <= c ? up : corner;
      const add = [0, left, up, (left + up) >> 1, paeth][filter];
      pixels[y * row + x] = raw[y * (row + 1) + 1 + x] + add;
    }
  }
  return { width, height, at: (x, y) => [0, 1, 2].map((k) => pixels[y * row + x * channels + k]) };
}

const PIXELS_A_MM = 5;

/** The first picture of a file rendered: {at([x, y] in mm) -> 0 for ink to 255 for paper, pixels}. */
async function rendered(browser, file, scale = PIXELS_A_MM) {
  return opened(browser, file, async (page) => {
    await page.addStyleTag({ content: ".page { margin: 0 !important; outline: none !important; max-width: none !important } .page svg { max-width: none !important }" });
    await page.evaluate((scale) => {
      const svg = document.querySelector("svg");
      const [, , wide, high] = svg.getAttribute("viewBox").split(" ").map(Number);
      svg.style.width = `${wide * scale}px`;
      svg.style.height = `${high * scale}px`;
    }, scale);
    const pixels = decoded(await page.locator("svg").first().screenshot());
    return { pixels, at: ([x, y]) => pixels.at(Math.floor(x * scale), Math.floor(y * scale))[1] };
  });
}

/** From the engine's mm to the paper's, solved from the crank and the pulley farthest from it. */
function placing(pulleys, centres) {
  const names = Object.keys(centres);
  const at = Object.fromEntries(pulleys.map((pulley) => [pulley.name, pulley.at]));
  const [crank] = names;
  const from = (name) => [centres[name][0] - centres[crank][0], centres[name][1] - centres[crank][1]];
  const far = names.slice(1).reduce((a, b) => (Math.hypot(...from(a)) > Math.hypot(...from(b)) ? a : b));
  const [dx, dy] = from(far);
  const [px, py] = [at[far][0] - at[crank][0], -(at[far][1] - at[crank][1])];
  const square = dx * dx + dy * dy;
  const [c, s] = [(px * dx + py * dy) / square, (py * dx - px * dy) / square];
  const scale = Math.hypot(c, s);
  const point = ([x, y]) => {
    const [ex, ey] = [x - centres[crank][0], y - centres[crank][1]];
    return [at[crank][0] + c * ex - s * ey, at[crank][1] - (s * ex + c * ey)];
  };
  return { scale, point };
}

/** Segments of one page of a PDF in mm from its top left, as poppler's cairo writer has them. */
function pdfSegments(file, page) {
  const svg = execFileSync("pdftocairo", ["-svg", "-f", String(page), "-l", String(page), file, "-"],
    { encoding: "utf8", maxBuffer: 1 << 28 });
  const segments = [];
  for (const [, tag] of svg.matchAll(/<path ([^>]*)\/>/g)) {
    const d = tag.match(/ ?\bd="([^"]*)"/)?.[1] ?? "";
    const [a, b, c, e, f, g] = (tag.match(/transform="matrix\(([^)]*)\)"/)?.[1] ?? "1,0,0,1,0,0").split(/[ ,]+/).map(Number);
    const points = [...d.matchAll(/([ML]) (-?[\d.]+) (-?[\d.]+)/g)].map(([, , x, y]) => {
      const [u, v] = [Number(x), Number(y)];
      return [(a * u + c * v + f) * (25.4 / 72), (b * u + e * v + g) * (25.4 / 72)];
    });
    if (points.length === 2 && !/[CZ]/.test(d)) segments.push(points);
  }
  return segments;
}

/** The segment of a PDF's page nearest to one of the picture. */
function nearest(segments, [from, to]) {
  const off = ([a, b]) => Math.min(
    Math.max(Math.hypot(a[0] - from[0], a[1] - from[1]), Math.hypot(b[0] - to[0], b[1] - to[1])),
    Math.max(Math.hypot(b[0] - from[0], b[1] - from[1]), Math.hypot(a[0] - to[0], a[1] - to[1])));
  const best = segments.reduce((a, b) => (off(a) <= off(b) ? a : b));
  return { off: off(best), segment: best };
}

const middle = ([a, b]) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
const apart = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

await run({
  "no words lie over other words": async (browser) => {
    const faults = [];
    for (const page of await all(browser)) {
      page.texts.forEach((one, k) => {
        for (const two of page.texts.slice(k + 1)) {
          if (overlap(one.corners, two.corners)) faults.push(`${page.where}: "${one.text}" and "${two.text}"`);
        }
      });
    }
    none(faults);
  },

  "no words are cut off by the paper's edge": async (browser) => {
    const faults = [];
    for (const page of await all(browser)) {
      for (const text of page.texts) {
        const box = boxOf(text.corners);
        if (box.left < 0 || box.top < 0 || box.right > page.size[0] || box.foot > page.size[1]) {
          faults.push(`${page.where}: "${text.text}" ${JSON.stringify(box)}`);
        }
      }
    }
    none(faults);
  },

  "capitals are printed at 2.5 mm at least": async (browser) => {
    const faults = [];
    for (const page of await all(browser)) {
      assert.ok(page.texts.length > 0, page.where);
      for (const text of page.texts) {
        if (text.capitals_mm < LEAST_CAPITALS_MM - 1e-3) faults.push(`${page.where}: ${text.capitals_mm} mm: "${text.text}"`);
      }
    }
    none(faults);
  },

  "every page is a sheet of A4": async (browser) => {
    const faults = [];
    for (const page of await all(browser)) {
      if (page.printed[0] !== `${page.size[0]}mm` || page.printed[1] !== `${page.size[1]}mm`) {
        faults.push(`${page.where}: ${page.printed} for ${page.size}`);
      }
      if (page.size[0] > A4_MM[0] || page.size[1] > A4_MM[1]) faults.push(`${page.where}: ${page.size} mm`);
    }
    none(faults);
  },

  "a name stands nearest to its own pulley, or a line leads to it": async (browser) => {
    const faults = [];
    for (const page of (await all(browser)).filter((one) => one.kind === "" || one.kind === "--true-size")) {
      for (const pulley of page.pulleys) {
        const words = page.texts.find((text) => text.text === pulley.name && ["labels", ""].includes(text.group));
        if (!words) continue;
        // Its size and how far its mark is out stand under it.
        const middle = (text) => (boxOf(text.corners).left + boxOf(text.corners).right) / 2;
        const at = page.texts.indexOf(words);
        const under = page.texts.slice(at + 1, at + 3).filter((text, k) => text.group === words.group && Math.abs(middle(text) - middle(words)) < 0.5 &&
          boxOf(text.corners).top > boxOf(words.corners).top && boxOf(text.corners).top < boxOf(words.corners).foot + 5 * k + 3);
        const box = boxOf([words, ...under].flatMap((text) => text.corners));
        const off = (one) => Math.max(0, fromBox(box, one.at) - one.radius);
        const others = page.pulleys.filter((one) => one !== pulley);
        const near = others.filter((one) => off(one) < off(pulley) + 0.5 && !(off(pulley) === 0 && fromBox(box, pulley.at) < fromBox(box, one.at)));
        if (near.length === 0) continue;
        const led = page.lines.labels.some((line) => line.length === 2 && [line, [...line].reverse()].some(([a, b]) =>
          fromBox(box, a) < 6 && Math.abs(apart(b, pulley.at) - pulley.radius) < 4 &&
          others.every((one) => Math.abs(apart(b, one.at) - one.radius) > 1)));
        if (!led) faults.push(`${page.where}: "${pulley.name}", ${off(pulley).toFixed(1)} mm from its own, stands as near to ${near.map((one) => `${one.name}, ${off(one).toFixed(1)} mm`)}`);
      }
    }
    none(faults);
  },

  "at full size every name is whole on a page, inside its frame": async (browser) => {
    const pages = (await all(browser)).filter((one) => one.kind === "--true-size");
    const faults = [];
    const whole = new Map();
    for (const page of pages) {
      const inside = page.texts.filter((text) => {
        const box = boxOf(text.corners);
        return box.left >= WHITE_MM && box.top >= WHITE_MM && box.right <= A4_MM[0] - WHITE_MM && box.foot <= A4_MM[1] - WHITE_MM;
      });
      const words = inside.map((text) => text.text).join("").replaceAll(" ", "");
      for (const pulley of page.pulleys) {
        const key = `${page.name}: ${pulley.name}`;
        whole.set(key, (whole.get(key) ?? false) || words.includes(pulley.name.replaceAll(" ", "")));
      }
    }
    for (const [key, there] of whole) if (!there) faults.push(key);
    assert.ok(whole.size > 100);
    none(faults);
  },

  "only ink, paper and greys are rendered": async (browser) => {
    for (const page of await all(browser)) {
      for (const colour of page.colours) {
        const [r, g, b] = colour.match(/[\d.]+/g).map(Number);
        assert.ok(r === g && g === b, `${page.where}: ${colour}`);
      }
    }
    for (const one of made.filter(({ name }) => ["night-bakery-van", "valley-rescue-v6 turned", "roadside-counts"].includes(name))) {
      const { pixels } = await rendered(browser, one.file, 3);
      let dark = 0;
      for (let y = 0; y < pixels.height; y += 1) {
        for (let x = 0; x < pixels.width; x += 1) {
          const [r, g, b] = pixels.at(x, y);
          assert.ok(Math.max(r, g, b) - Math.min(r, g, b) <= 2, `${one.file}: rgb ${[r, g, b]} at ${[x, y]}`);
          if (g < 100) dark += 1;
        }
      }
      assert.ok(dark > 500, `${one.file}: something is drawn`);
    }
  },

  "ink and paper are where the drive's geometry has them": async (browser) => {
    let hubs = 0;
    for (const one of made.filter(({ name, kind }) => kind === "" && DRAWN.includes(name))) {
      const page = (await all(browser)).find((other) => other.file === one.file);
      const ask = (name) => JSON.parse(command([name, "-", "--json"], { input: one.profile }));
      const [route, turns, tensioner, table] = [ask("route"), ask("turns"), ask("tensioner"), JSON.parse(command(["sections", "--json"]))];
      const centres = Object.fromEntries(route.pulleys.map((pulley) =>
        [pulley.name, pulley.name === tensioner.pulley && turns.setting ? turns.setting.centre_mm : pulley.centre_mm]));
      const { scale, point } = placing(page.pulleys, centres);
      const picture = await rendered(browser, one.file);
      const wordy = (place) => page.texts.some((text) => fromBox(boxOf(text.corners), place) < 1.2);
      const count = { ink: 0, hubs: 0 };
      // Runs that the setting does not move: those whose both ends stand still.
      const section = table.sections.find((row) => one.profile.includes(`section = "${row.name}"`));
      route.spans.forEach((span, k) => {
        if ([span.from, span.to].includes(tensioner.pulley)) return;
        const [start, end] = [point(span.start_mm), point(span.end_mm)];
        const long = apart(start, end);
        // The open band of an arc ends where a run begins: a pixel there may be both.
        for (let mm = 1; mm < long - 1; mm += 0.5) {
          const here = [start[0] + ((end[0] - start[0]) * mm) / long, start[1] + ((end[1] - start[1]) * mm) / long];
          if (wordy(here)) continue;
          const dark = picture.at(here) < 100;
          // A slack run is dashed: two parts in seven of it are gaps.
          if (k >= route.spans.length - 1) assert.ok(dark, `${one.name}: ink on the run ${span.from} to ${span.to} at ${here}`);
          if (dark) count.ink += 1;
        }
      });
      // Hubs: a small cross, and white beside its arms.
      for (const pulley of page.pulleys.slice(1).filter((one) => one.name !== tensioner.pulley)) {
        const beside = [[0.8, -0.8], [-0.8, -0.8], [0.8, 0.8], [-0.8, 0.8]].map(([x, y]) => [pulley.at[0] + x, pulley.at[1] + y]);
        for (const place of beside.filter((place) => !wordy(place))) {
          assert.ok(picture.at(place) > 200, `${one.name}: white at the hub of ${pulley.name}`);
          count.hubs += 1;
        }
      }
      // Belt teeth: tips where they lie in a pulley's grooves. Those of the crank stand where its
      // mark and its teeth put them: at equal steps along the arc, ink and gap in turn.
      const crank = page.pulleys[0];
      const radius = route.pulleys[0].pitch_radius_mm;
      const depth = (section.land_to_pitch_line_mm + 0.75 * section.tooth_height_mm);
      const inner = (radius - depth) * scale;
      const entry = point(route.spans.at(-1).end_mm);
      const leave = point(route.spans[0].start_mm);
      const clockwise = turns.crank_turns === "clockwise";
      const angle = ([x, y]) => Math.atan2(y - crank.at[1], x - crank.at[0]);
      let wrap = (clockwise ? 1 : -1) * (angle(leave) - angle(entry));
      wrap = ((wrap % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
      const steps = 2000;
      let changes = 0;
      let last = null;
      const moved = [route.spans.at(-1).from, route.spans[0].to].includes(tensioner.pulley) ? 0.12 : 0.02;
      for (let k = 0; k <= steps; k += 1) {
        const at = angle(entry) + (clockwise ? 1 : -1) * (moved + ((wrap - 2 * moved) * k) / steps);
        const dark = picture.at([crank.at[0] + inner * Math.cos(at), crank.at[1] + inner * Math.sin(at)]) < 128;
        if (last !== null && dark !== last) changes += 1;
        last = dark;
      }
      const teeth = ((wrap - 2 * moved) * radius) / route.pitch_mm;
      if (depth * scale > 0.8) {
        assert.ok(Math.abs(changes / 2 - teeth) <= 1.5, `${one.name}: ${changes / 2} teeth seen in the crank's grooves, ${teeth} lie there`);
      }
      // Paper round the edge.
      for (let mm = 2; mm < page.size[1] - 2; mm += 3) {
        assert.equal(picture.at([4, mm]), 255);
        assert.equal(picture.at([page.size[0] - 4, mm]), 255);
      }
      assert.ok(count.ink > 20, `${one.name}: ${JSON.stringify(count)}`);
      hubs += count.hubs;
    }
    assert.ok(hubs > 0, "some hub is not under its pulley's number");
  },

  "at full size a PDF is 1:1 on every page and across page joins": async (browser) => {
    const WITHIN_MM = 0.1;
    let joins = 0;
    let far = 0;
    for (const one of made.filter(({ name, kind }) => kind === "--true-size" && !name.startsWith("random"))) {
      const pages = (await all(browser)).filter((page) => page.file === one.file);
      const file = pages[0].pdf;
      const info = pdfInfo(file);
      assert.match(info.size, /\(A4\)/, one.name);
      assert.equal(info.pages, pages.length, one.name);
      const centres = new Map();
      const crossesOf = [];
      pages.forEach((page, index) => {
        const segments = pdfSegments(file, index + 1);
        const put = (line) => {
          // What lies beyond the paper does not get into a PDF.
          if (line.flat().some((mm, k) => mm < 0 || mm > A4_MM[k % 2])) return null;
          const { off, segment } = nearest(segments, line);
          assert.ok(off < WITHIN_MM, `${page.where}: a line of the picture is ${off} mm off on paper`);
          return segment;
        };
        const bar = page.lines["check-bar"].map(put).find((line) => line && Math.abs(apart(...line) - 100) < 1);
        assert.ok(bar && Math.abs(apart(...bar) - 100) < WITHIN_MM, `${page.where}: the bar is 100 mm`);
        const crosses = page.lines.crosses.map(put).map(middle).filter((_, k) => k % 2 === 0);
        crossesOf.push(crosses);
        far = Math.max(far, ...crosses.map((cross) => apart(cross, crosses[0])));
        page.lines.centre.map(put).filter((line, k) => line && k % 2 === 0).map(middle).forEach((at) => {
          const pulley = page.pulleys.reduce((a, b) => (apart(a.at, at) <= apart(b.at, at) ? a : b));
          assert.ok(apart(pulley.at, at) < WITHIN_MM, `${page.where}: the centre of ${pulley.name}`);
          if (!centres.has(pulley.name)) centres.set(pulley.name, { page: index, at });
        });
      });
      const route = JSON.parse(command(["route", "-", "--json"], { input: one.profile }));
      const turns = JSON.parse(command(["turns", "-", "--json"], { input: one.profile }));
      const tensioner = JSON.parse(command(["tensioner", "-", "--json"], { input: one.profile }));
      const mm = Object.fromEntries(route.pulleys.map((pulley) =>
        [pulley.name, pulley.name === tensioner.pulley && turns.setting ? turns.setting.centre_mm : pulley.centre_mm]));
      // Corners of pages, found by laying shared crosses on each other, page by page.
      const corner = [[0, 0]];
      for (let to = 1; to < pages.length; to += 1) {
        const from = pages.findIndex((page, k) => k < to &&
          Math.abs(page.cell[0] - pages[to].cell[0]) + Math.abs(page.cell[1] - pages[to].cell[1]) === 1);
        // A page beyond one that is not printed, because it would be empty, joins none.
        if (from < 0 || !corner[from]) continue;
        const step = [180 * (pages[to].cell[0] - pages[from].cell[0]), 267 * (pages[to].cell[1] - pages[from].cell[1])];
        const shared = crossesOf[to].flatMap((there) => crossesOf[from]
          .map((here) => [here[0] - there[0], here[1] - there[1]]).filter((by) => apart(by, step) < 1));
        assert.ok(shared.length >= 2, `${one.name}: pages ${from + 1} and ${to + 1} share crosses`);
        corner[to] = [corner[from][0] + shared[0][0], corner[from][1] + shared[0][1]];
      }
      const names = [...centres.keys()];
      for (const a of names) {
        for (const b of names) {
          const [first, second] = [centres.get(a), centres.get(b)];
          if (a >= b || !corner[first.page] || !corner[second.page]) continue;
          const onSheet = ({ page, at }) => [corner[page][0] + at[0], corner[page][1] + at[1]];
          const off = apart(onSheet(first), onSheet(second)) - apart(mm[a], mm[b]);
          assert.ok(Math.abs(off) < WITHIN_MM, `${one.name}: ${a} to ${b} is ${off} mm off`);
          if (first.page !== second.page && apart(mm[a], mm[b]) > 200) joins += 1;
        }
      }
    }
    assert.ok(far > 200 && joins > 5, `${far} mm on one page, ${joins} long ones across joins`);
  },

  "a picture prints on one sheet, and so do wheel and strip on theirs": async (browser) => {
    const faults = [];
    for (const one of made.filter((one) => one.kind !== "--true-size" && onPaper(one))) {
      const pages = (await all(browser)).filter((page) => page.file === one.file);
      const info = pdfInfo(pages[0].pdf);
      if (!/\(A4\)/.test(info.size) || info.pages !== pages.length) faults.push(`${one.name} ${one.kind}: ${info.pages} sheets for ${pages.length}, ${info.size}`);
    }
    none(faults);
  },

  "names that are markup and script show as text, and nothing runs": async (browser) => {
    const hostile = `</svg></title></style><script>document.title="ran";alert(1)</script><img src=x onerror='alert(2)'>"&'`;
    const profile = fs.readFileSync(`${root}/profiles/harbour-launch.toml`, "utf8")
      .replace(/^title = .*$/m, () => `title = ${JSON.stringify(hostile)}`)
      .replace('name = "water pump"', () => `name = ${JSON.stringify(`</svg><script>alert(3)</script>"&'<b onclick=alert(4)>`)}`)
      .replace(/^"pulley.water pump.*$/m, "");
    for (const kind of KINDS) {
      for (const end of kind === "--true-size" ? ["html"] : ["html", "svg"]) {
        const file = written(`hostile${kind}.${end}`, "");
        command(["draw", "-", "-o", file, "--force", ...(kind ? [kind] : [])], { input: profile });
        await opened(browser, file, async (page) => {
          if (end === "html") assert.equal(await page.title(), hostile);
          assert.equal(await page.locator("script, img, b, [onclick], [onerror]").count(), 0);
          if (kind === "") {
            const words = (await page.locator("svg").textContent()).replaceAll(/\s/g, "");
            assert.ok(words.includes(hostile.replaceAll(/\s/g, "")), "the title is there");
          }
        });
      }
    }
  },

  "the Nu HTML checker and axe-core find nothing": async (browser) => {
    const few = made.filter(({ name }) => ["harbour-launch", "roadside-counts", "night-bakery-van"].includes(name));
    none(htmlFaults(few.map(({ file }) => file)));
    const found = await openedInTurn(browser, few.map(({ file }) => file), axe);
    none(found.flatMap((faults, which) => faults.map((fault) => `${path.basename(few[which].file)}: ${fault}`)));
  },
});
