// The report in a browser: its handle against the answers of `turns`, on a phone, on a desk, in print.
import assert from "node:assert/strict";
import fs from "node:fs";
import {
  axe, command, demos, htmlFaults, notSideways, opened, pdfInfo, pdfWords, printed, root, run, written,
} from "./bench.mjs";

const HOSTILE = `</title></style><script>document.title="ran";alert(1)</script><img src=x onerror='alert(2)'>"&'`;
const HOSTILE_NAME = `</script><img src=x onerror='alert(3)'>"&'`;

const report = (name, profile) => written(`${name}.html`, command(["report", "-"], { input: profile }));
const profiles = demos().map(([name, file]) => [name, fs.readFileSync(file, "utf8")]);
profiles.push(["hostile", fs.readFileSync(`${root}/profiles/harbour-launch.toml`, "utf8")
  .replace(/^title = .*$/m, `title = ${JSON.stringify(HOSTILE)}`)
  .replace('name = "water pump"', `name = ${JSON.stringify(HOSTILE_NAME)}`)
  .replace(/^"pulley.water pump.*$/m, "")]);
const reports = profiles.map(([name, profile]) => [name, profile, report(name, profile)]);
const fileOf = (wanted) => reports.find(([name]) => name === wanted)[2];

const turnsOf = (profile) => JSON.parse(command(["turns", "-", "--json"], { input: profile }));
const leanOf = (profile) => Number(profile.match(/^lean_deg *= *([-\d.]+)/m)?.[1] ?? 0);
const apart = (a, b) => Math.abs(((((a - b) % 360) + 540) % 360) - 180);

/** Where every solid mark points now, clock degrees, by its pulley's name, read off the picture. */
const marksShown = (page) => page.evaluate(() => {
  const svg = document.querySelector("#engine svg");
  const to = svg.getScreenCTM().inverse();
  return [...svg.querySelectorAll("g.mark")].map((group) => {
    const [tip] = group.querySelector("path").getAttribute("d").slice(1).split("L")[0].split("Z")
      .map((pair) => pair.split(" ").map(Number));
    const here = new DOMPoint(...tip).matrixTransform(
      to.multiply(group.querySelector("path").getScreenCTM()));
    const x = here.x - Number(group.dataset.x), y = here.y - Number(group.dataset.y);
    return [group.querySelector("title").textContent, (Math.atan2(x, -y) * 180 / Math.PI + 360) % 360];
  });
});

/** The handle's own slider drawn to a place with the mouse, then to the degree with the keys. */
async function dragTo(page, crank) {
  const slider = page.locator("#crank");
  await slider.scrollIntoViewIfNeeded();
  const box = await slider.boundingBox();
  const now = Number(await slider.inputValue());
  const at = (value) => box.x + 8 + (box.width - 16) * value / 720;
  await page.mouse.move(at(now), box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(at(crank), box.y + box.height / 2, { steps: 8 });
  await page.mouse.up();
  for (let k = 0; k < 20 && Number(await slider.inputValue()) !== crank; ++k) {
    await slider.press(Number(await slider.inputValue()) < crank ? "ArrowRight" : "ArrowLeft");
  }
  assert.equal(Number(await slider.inputValue()), crank, "the handle stands where it was drawn to");
}

const clockWords = (text) => Number(text.match(/^([\d.]+) \(\d+:\d\d\)$/)[1]);

async function marksAgree(page, answer, turns, lean, name) {
  const after = answer.after_turns.filter((row) => row.turns === turns);
  const shown = await marksShown(page);
  let looked = 0;
  for (const shaft of after) {
    const mark = shown.find(([title]) => title === `mark of ${shaft.shaft}`);
    if (!mark || shaft.mark_deg === null) continue;
    // A picture holds thousandths of a mm at about 20 mm from the centre.
    assert.ok(apart(mark[1], shaft.mark_deg + lean) < 0.05,
      `${name}, ${turns} turns, ${shaft.shaft}: at ${mark[1]}, not ${shaft.mark_deg + lean}`);
    looked += 1;
  }
  assert.ok(looked >= 2, `${name}: marks looked at: ${looked}`);
  const rows = await page.locator("#seen tbody tr").evaluateAll((list) => list.map((row) => [...row.children].map((cell) => cell.textContent)));
  for (const [shaftName, at, error] of rows) {
    const shaft = after.find((one) => one.shaft === shaftName);
    assert.ok(apart(clockWords(at), shaft.mark_deg + lean) < 0.051, `${name}: ${shaftName} ${at}`);
    const off = Math.abs(shaft.error_crank_deg);
    assert.equal(error, off < 0.005 ? "right" : `${off.toFixed(2)} crank deg ${shaft.error_crank_deg > 0 ? "early" : "late"}`);
  }
}

/** Middles of the belt's teeth as they stand. */
const teethShown = (page) => page.evaluate(() => {
  const svg = document.querySelector("#engine svg");
  const to = svg.getScreenCTM().inverse();
  return [...svg.querySelectorAll("g.belt-teeth > path")].map((path) => {
    const corners = path.getAttribute("d").slice(1, -1).split("L").map((pair) => pair.split(" ").map(Number));
    const [a, d] = [corners[0], corners[3]];
    const point = new DOMPoint((a[0] + d[0]) / 2, (a[1] + d[1]) / 2).matrixTransform(to.multiply(path.getScreenCTM()));
    return [point.x, point.y];
  });
});

/** Titles of the marks, pins and pulleys of the belt end that lie partly out of their picture. */
const cutOff = (page) => page.evaluate(() => {
  const svg = document.querySelector("#engine svg");
  const whole = svg.getBoundingClientRect();
  const shapes = "g.mark path, g.belongs path, g.pin circle, g.pulley circle, g.pulley path, g.belt-teeth path";
  return [...svg.querySelectorAll(shapes)].filter((shape) => {
    const box = shape.getBoundingClientRect();
    return box.left < whole.left || box.right > whole.right || box.top < whole.top || box.bottom > whole.bottom;
  }).map((shape) => shape.closest("g[class]").querySelector("title")?.textContent ?? "");
});

const moving = reports.filter(([name]) => !["roadside-counts", "hostile"].includes(name));

const each = Object.fromEntries(moving.map(([name, profile, file]) => [`the handle of ${name}`, (browser) =>
  opened(browser, file, async (page) => {
    const answer = turnsOf(profile);
    const lean = leanOf(profile);
    const start = await teethShown(page);
    assert.equal(start.length, answer.belt_teeth ?? start.length);
    assert.deepEqual(await cutOff(page), [], `${name}: cut off`);
    for (const turns of [1, 2]) {
      await dragTo(page, 360 * turns);
      await marksAgree(page, answer, turns, lean, name);
      assert.deepEqual(await cutOff(page), [], `${name}: cut off after ${turns}`);
    }
    // After two turns each tooth of the belt stands where the one so many further on stood.
    const end = await teethShown(page);
    const further = answer.paint.teeth_further_on;
    const crank = await page.evaluate(() => document.querySelector("g.pulley title").textContent);
    assert.ok(crank.length > 0);
    for (const k of [0, 1, Math.floor(start.length / 3), start.length - 1]) {
      const there = start[(k + further) % start.length];
      assert.ok(Math.hypot(end[k][0] - there[0], end[k][1] - there[1]) < 0.35,
        `${name}: belt tooth ${k} stands at ${end[k]}, not ${there}`);
    }
    await page.setViewportSize({ width: 360, height: 740 });
    await notSideways(page);
    await dragTo(page, 360);
    await marksAgree(page, answer, 1, lean, `${name} on a phone`);
  })]));

await run({
  ...each,

  "a counts-only profile has a report without a handle": (browser) =>
    opened(browser, fileOf("roadside-counts"), async (page) => {
      assert.equal(await page.locator("#handle").count(), 0);
      await page.setViewportSize({ width: 360, height: 740 });
      await notSideways(page);
    }),

  "hands and lines of the plots go with the crank": (browser) =>
    opened(browser, fileOf("night-bakery-van"), async (page) => {
      // Where a group that turns points now, clock deg, from where it stood; and a line along its axis, 0 to 1.
      const stands = () => page.evaluate(() => {
        const turned = (group) => {
          const [, deg] = group.getAttribute("transform").match(/^rotate\(([-\d.e]+)/);
          return ((Number(deg) % 360) + 360) % 360;
        };
        const along = [...document.querySelectorAll("g.cursor")].map((group) => {
          const end = group.closest("svg").querySelector("g.cursor-end");
          const [, by] = group.getAttribute("transform").match(/^translate\(([-\d.e]+)/);
          return Number(by) / (end.dataset.x - group.dataset.x);
        });
        return { mark: turned(document.querySelector("#engine g.mark")), hands: [...document.querySelectorAll("g.hand")].map(turned),
          along, second: [...document.querySelectorAll("g.hand-second")].map((group) => group.style.display) };
      });
      for (const crank of [0, 90, 360, 500, 720]) {
        await page.evaluate((to) => {
          const slider = document.getElementById("crank");
          slider.value = to;
          slider.dispatchEvent(new window.Event("input"));
        }, crank);
        const { mark, hands, along, second } = await stands();
        assert.equal(hands.length, 2);
        assert.ok(Math.abs(mark - (crank % 360)) < 0.1, `clockwise: ${mark}`);
        for (const hand of hands) assert.ok(apart(hand, mark) < 1e-6, `at ${crank}: ${hand}, the mark ${mark}`);
        assert.equal(along.length, 3);
        for (const share of along) assert.ok(Math.abs(share - crank / 720) < 1e-9, `at ${crank}: ${share}`);
        for (const shown of second) assert.equal(shown, crank < 360 ? "none" : "inline");
      }
    }),

  "on a phone no word of a table is broken": async (browser) => {
    for (const [name, , file] of reports.filter(([name]) => name !== "hostile")) {
      await opened(browser, file, async (page) => {
        const [looked, broken] = await page.evaluate(() => {
          const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          let words = 0;
          const parted = [];
          while (walker.nextNode()) {
            const node = walker.currentNode;
            if (!node.parentElement.closest("td, th")) continue;
            for (const word of node.data.matchAll(/[^\s-]+/g)) {
              const range = document.createRange();
              range.setStart(node, word.index);
              range.setEnd(node, word.index + word[0].length);
              words += 1;
              if (range.getClientRects().length > 1) parted.push(word[0]);
            }
          }
          return [words, parted];
        });
        assert.ok(looked > 20, `${name}: ${looked} words`);
        assert.deepEqual(broken, [], name);
      }, { width: 360, height: 740 });
    }
  },

  "three tooth counts tell degrees a tooth, paint and the order of the pulleys": (browser) =>
    opened(browser, fileOf("roadside-counts"), async (page) => {
      const rows = await page.locator("#worth ~ div tbody tr").evaluateAll((list) => list.map((row) => [...row.children].map((cell) => cell.textContent)));
      // 360 over 20 teeth, and half that on a cam of twice as many.
      assert.deepEqual(rows, [["crank", "20", "18.00", "18.00"], ["cam", "40", "18.00", "9.00"]]);
      assert.match(await page.locator("#worth ~ p").textContent(), /40 teeth further on.*111 turns.*222/);
      assert.equal(await page.locator(".order svg g.pulley").count(), 2);
    }),

  "keys, buttons and play turn the crank": (browser) =>
    opened(browser, fileOf("harbour-launch"), async (page) => {
      await page.locator("#crank").focus();
      await page.keyboard.press("ArrowRight");
      assert.equal(await page.locator("#now").textContent(), "1");
      await page.getByRole("button", { name: "10 on" }).click();
      assert.equal(await page.locator("#now").textContent(), "11");
      await page.getByRole("button", { name: "2 turns" }).click();
      assert.equal(await page.locator("#now").textContent(), "720");
      await page.getByRole("button", { name: "Play" }).click();
      await page.waitForFunction(() => Number(document.getElementById("now").textContent) > 20 && Number(document.getElementById("now").textContent) < 720);
      await page.getByRole("button", { name: "Stop" }).click();
      const stood = await page.locator("#now").textContent();
      await page.waitForTimeout(200);
      assert.equal(await page.locator("#now").textContent(), stood);
    }),

  "without scripts everything but the motion is there": async (browser) => {
    const context = await browser.newContext({ javaScriptEnabled: false, offline: true });
    const page = await context.newPage();
    await page.goto(`file://${fileOf("night-bakery-van")}`);
    assert.ok(!(await page.locator("#handle").isVisible()));
    for (const words of ["STOP: do not turn it", "What was found", "What you should see", "Cautions"]) {
      assert.ok(await page.getByText(words, { exact: false }).first().isVisible(), words);
    }
    assert.ok(await page.locator("#engine svg").isVisible());
    // Room and torque round two turns; errors, tensions, stretch; belt length.
    assert.equal(await page.locator(".plot svg").count(), 6);
    assert.ok(!(await page.locator(".hand-second").first().isVisible()), "the hand is on its first turn");
    await context.close();
  },

  "drives by chance stand as a plot with its numbers under it, where anything is unsure": async (browser) => {
    await opened(browser, fileOf("valley-rescue-v6"), async (page) => {
      const figure = page.locator("figure.plot", { hasText: "Where the tensioner may stand" });
      assert.equal(await figure.count(), 1);
      const words = await figure.locator("figcaption").textContent();
      for (const part of ["2048 drives, seed 1", "cannot be put together", "95 times in 100", "Timing error. The left inlet cam:"]) {
        assert.ok(words.includes(part), part);
      }
    });
    await opened(browser, fileOf("night-bakery-van"), async (page) => {
      assert.equal(await page.locator("figure.plot", { hasText: "Where the tensioner may stand" }).count(), 0);
    });
  },

  "the Nu HTML checker and axe-core find nothing": async (browser) => {
    assert.deepEqual(htmlFaults(reports.map(([, , file]) => file)), []);
    for (const name of ["night-bakery-van", "valley-rescue-v6", "roadside-counts"]) {
      await opened(browser, fileOf(name), async (page) => assert.deepEqual(await axe(page), [], name));
    }
  },

  "a title and a name that are markup and script show as text": (browser) =>
    opened(browser, fileOf("hostile"), async (page) => {
      assert.equal(await page.title(), HOSTILE);
      assert.equal(await page.locator("h1").textContent(), HOSTILE);
      assert.equal(await page.locator("img, [onerror]").count(), 0);
      assert.ok((await page.locator("#pulleys ~ div").textContent()).includes(HOSTILE_NAME));
      await dragTo(page, 360);
    }),

  "it prints on A4 with its verdict on the first page": (browser) =>
    opened(browser, fileOf("night-bakery-van"), async (page) => {
      const pdf = await printed(page, "bakery");
      assert.match(pdfInfo(pdf).size, /\(A4\)/);
      const stop = pdfWords(pdf).find((word) => word.text === "STOP:");
      assert.ok(stop && stop.page === 1 && stop.y < 60);
    }),
});
