// The scripts of the pages and of these tests, looked through by a linter: unknown or unused names,
// code that cannot be reached, doubled keys.
import assert from "node:assert/strict";
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { root, work } from "./bench.mjs";

const require = createRequire(path.join(work, "package.json"));
const { Linter } = require("eslint");
const { configs } = require("@eslint/js");

const named = (names) => Object.fromEntries(names.split(" ").map((name) => [name, "readonly"]));
const pageNames = named("document window matchMedia requestAnimationFrame cancelAnimationFrame");
// Functions that a test hands to the page see the page's names.
const testNames = {
  ...pageNames,
  ...named("process console Buffer URL setTimeout getComputedStyle DOMPoint NodeFilter"),
};

function scripts(folder, ending) {
  const files = fs.readdirSync(path.join(root, folder)).filter((name) => name.endsWith(ending));
  assert.ok(files.length, `no ${ending} in ${folder}`);
  return files.map((name) => path.join(folder, name));
}

function faults(file, sourceType, globals) {
  const rules = {
    ...configs.recommended.rules,
    eqeqeq: "error",
    "no-var": "error",
  };
  const config = { languageOptions: { ecmaVersion: 2022, sourceType, globals }, rules };
  const text = fs.readFileSync(path.join(root, file), "utf8");
  return new Linter().verify(text, [config]).map(
    (fault) => `${file}:${fault.line}:${fault.column}: ${fault.message} (${fault.ruleId})`);
}

// A linter that finds nothing anywhere is no linter.
assert.equal(new Linter().verify("unknown();", [{ rules: { "no-undef": "error" } }]).length, 1);

const found = [
  ...scripts("lib/src/page/files", ".js").flatMap((file) => faults(file, "script", pageNames)),
  ...scripts("tests/browser", ".mjs").flatMap((file) => faults(file, "module", testNames)),
];
assert.deepEqual(found, []);
