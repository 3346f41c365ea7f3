// The form's text work: what a field is, and that changing one changes that value and nothing else.
import assert from "node:assert/strict";
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";

const root = path.resolve(path.dirname(new URL(import.meta.url).pathname), "../..");
const require = createRequire(import.meta.url);
const { kindOf, pathOf, readText, schemaOf, shownValue, tablesOf, typedValue, unitTyped, withCopy, withEarlier, withKey, withLines,
  withNew, withValue, withoutBlock } =
  require(path.join(root, "cli/onepage/profile.js"));

const schema = JSON.parse(fs.readFileSync(path.join(root, "profiles/profile.schema.json"), "utf8"));
const demos = fs.readdirSync(path.join(root, "profiles")).filter((name) => name.endsWith(".toml"));
assert.ok(demos.length >= 8);
const known = (table, key) => schemaOf(schema, table, key) !== null;

const tests = {
  "every line of a demo that gives a value is a field that the schema knows": () => {
    for (const name of demos) {
      const text = fs.readFileSync(path.join(root, "profiles", name), "utf8");
      const lines = text.split("\n");
      const fields = tablesOf(text, known).flatMap((table) => table.fields.map((field) => [table, field]));
      const given = fields.filter(([, field]) => !field.left_out);
      const covered = new Set(given.flatMap(([, field]) =>
        Array.from({ length: field.last - field.line + 1 }, (_, i) => field.line + i)));
      lines.forEach((line, i) => {
        if (/^\s*(#|\[|$)/.test(line)) return;
        assert.ok(covered.has(i), `${name}:${i + 1}: ${line}`);
      });
      for (const [table, field] of given) {
        if (table.name === "origin" || table.name === "example") continue;
        assert.ok(known(table.name, field.key), `${name}: ${table.name} ${field.key}`);
      }
    }
  },

  "a value that is put back as it was leaves every byte as it was; another changes its line alone": () => {
    for (const name of demos) {
      const text = fs.readFileSync(path.join(root, "profiles", name), "utf8");
      const before = text.split("\n");
      for (const table of tablesOf(text, known)) {
        for (const field of table.fields.filter((one) => !one.left_out && one.line === one.last)) {
          const same = withValue(text, field, field.value);
          assert.equal(same.replace(/ +#/g, " #").replace(/ +=/g, " ="), text.replace(/ +#/g, " #").replace(/ +=/g, " ="), `${name}: ${field.key}`);
          const after = withValue(text, field, "12345").split("\n");
          assert.equal(after.length, before.length);
          after.forEach((line, i) => { if (i !== field.line) assert.equal(line, before[i]); });
          const line = before[field.line];
          const comment = line.slice(line.indexOf(field.value, line.indexOf(field.key) + field.key.length) + field.value.length).trim();
          assert.ok(after[field.line].endsWith(comment), `${name}: the comment of ${field.key} stays`);
        }
      }
    }
  },

  "what is typed by hand becomes a value of the format": () => {
    for (const [typed, kind, value] of [
      ["12,5", "number", "12.5"], ["12.5", "number", "12.5"], [" 40 ", "number", "40"], ["+3", "number", "3"],
      [".5", "number", "0.5"], ["-0,25", "number", "-0.25"], ["4:30", "number", '"4:30"'], ["1e-3", "number", "1e-3"],
      ["My engine", "text", '"My engine"'], ['a "b"', "text", '"a \\"b\\""'], ["12", "text", '"12"'],
      ["12,5; 30", "list", "[12.5, 30]"], ["12.5, 30", "list", "[12.5, 30]"], ["[1, 2]", "list", "[1, 2]"],
      ["true", "any", "true"], ["ten", "number", '"ten"'], ['"7:15"', "number", '"7:15"'],
    ]) assert.equal(typedValue(typed, kind), value, typed);
  },

  "leaving a field empty takes the number out and keeps the line as a question": () => {
    const text = "[belt]\n# 3. Count the teeth.\nteeth = 109 # counted\n";
    const [, belt] = tablesOf(text, known);
    const out = withValue(text, belt.fields[0], "");
    assert.equal(out, "[belt]\n# 3. Count the teeth.\n# teeth = 109 # counted\n");
    const [, again] = tablesOf(out, known);
    assert.equal(again.fields[0].left_out, true);
    assert.equal(withValue(out, again.fields[0], "110"), "[belt]\n# 3. Count the teeth.\nteeth = 110 # counted\n");
  },

  "a new key stands in its table, a new table at the end": () => {
    const text = '[belt]\nteeth = 109\n\n[[pulley]]\nname = "cam"\n';
    const [, belt] = tablesOf(text, known);
    assert.equal(withNew(text, belt, "pitch_mm", "8"), '[belt]\nteeth = 109\npitch_mm = 8\n\n[[pulley]]\nname = "cam"\n');
    assert.equal(withNew(text, { head: "[limits]" }, "stop_teeth", "0.4"), `${text}\n[limits]\nstop_teeth = 0.4\n`);
    assert.equal(withKey(text, belt.fields[0], "teeth_in"), text.replace("teeth", "teeth_in"));
  },

  "paths are those of the answers, names with points and blanks in them too": () => {
    const text = '[[pulley]]\nname = "inlet cam"\npin.radius_mm = 3\n[build]\nskim_mm = 0.1\n[origin]\n"belt.teeth" = "measured"\n';
    const paths = tablesOf(text, known).flatMap((table) => table.fields.map((field) => pathOf(table, field)));
    assert.deepEqual(paths, ["pulley.inlet cam.name", "pulley.inlet cam.pin.radius_mm", "build.skim_mm", "origin.belt.teeth"]);
  },

  "lists of several lines, quotes and signs within quotes are read": () => {
    const text = 'title = "a # b = c"\n[engine]\ncrank_pins_deg = [0, 180, # two\n  180, 0]\nstroke_mm = 80\n';
    const [top, engine] = tablesOf(text, known);
    assert.equal(readText(top.fields[0].value), "a # b = c");
    assert.equal(engine.fields.length, 2);
    assert.equal(engine.fields[0].last, engine.fields[0].line + 1);
  },

  "a unit typed behind a number goes into its key, where there is such a key": () => {
    const has = (key) => known("pulley", key);
    for (const [key, typed, into, number] of [
      ["diameter_mm", "60 mm", "diameter_mm", "60"], ["diameter_mm", "2.362 in", "diameter_in", "2.362"],
      ["diameter_mm", '2.362"', "diameter_in", "2.362"], ["mark_deg", "30\u00b0", "mark_deg", "30"],
      ["diameter_mm", "6 cm", "diameter_mm", "6 cm"], ["teeth", "20 mm", "teeth", "20 mm"], ["mark_deg", "4:30", "mark_deg", "4:30"],
    ]) assert.deepEqual(unitTyped(key, typed, has), { key: into, typed: number }, typed);
    assert.equal(shownValue("[62, 150]", "list"), "62, 150");
    assert.equal(shownValue('["a", "b"]', "list"), '["a", "b"]');
  },

  "an entry of a list is copied, moved and taken out with all that belongs to it, and nothing else": () => {
    const text = fs.readFileSync(path.join(root, "profiles/harbour-launch.toml"), "utf8");
    const names = (whole) => tablesOf(whole, known).filter((table) => table.name === "pulley").map((table) => table.own_name);
    const all = tablesOf(text, known);
    const index = all.findIndex((table) => table.name === "pulley" && all.some((one) => one.path[1] === table.own_name && one.path.length > 2));
    const { own_name: name } = all[index];
    assert.ok(index > 0);
    const copied = withCopy(text, all, index);
    assert.deepEqual(names(copied), names(text).flatMap((one) => (one === name ? [name, `${name} 2`] : [one])));
    const inCopy = tablesOf(copied, known).filter((table) => table.path[1] === `${name} 2`).length;
    assert.equal(inCopy, all.filter((table) => table.path[1] === name).length);
    const again = tablesOf(copied, known);
    const back = withoutBlock(copied, again, again.findIndex((table) => table.own_name === `${name} 2`));
    assert.equal(back.replace(/\n{2,}/g, "\n"), text.replace(/\n{2,}/g, "\n"));
    const last = all.findLastIndex((table) => table.name === "pulley");
    const order = names(text);
    const moved = names(withEarlier(text, all, last));
    assert.deepEqual(moved, [...order.slice(0, -2), order.at(-1), order.at(-2)]);
    const lines = withLines(text, all, index, ["[[pulley.mark]]", 'name = "damper"']);
    assert.ok(tablesOf(lines, known).some((table) => table.path.join(".") === `pulley.${name}.mark.damper`));
  },

  "the schema tells what may stand in a field": () => {
    assert.equal(kindOf(schemaOf(schema, "", "crank_turns")), "words");
    assert.equal(kindOf(schemaOf(schema, "", "title")), "text");
    assert.equal(kindOf(schemaOf(schema, "belt", "teeth")), "number");
    assert.equal(kindOf(schemaOf(schema, "pulley", "at_mm")), "list");
    assert.equal(schemaOf(schema, "pulley", "no_such_key"), null);
    assert.match(schemaOf(schema, "pulley", "teeth").description, /Count/);
  },
};

let failed = 0;
for (const [name, test] of Object.entries(tests)) {
  try { test(); console.log(`ok      ${name}`); } catch (error) { failed += 1; console.log(`FAILED  ${name}\n${error.stack}`); }
}
process.exit(failed ? 1 : 0);
