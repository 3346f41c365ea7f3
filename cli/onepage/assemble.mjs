// assemble.mjs OUT ENGINE.js ENGINE.wasm PROFILES: the whole tool as one file of HTML.
import fs from "node:fs";
import path from "node:path";
import zlib from "node:zlib";

const [out, engine, wasm, profiles] = process.argv.slice(2);
const here = path.dirname(new URL(import.meta.url).pathname);
const read = (name) => fs.readFileSync(path.join(here, name), "utf8");

const files = fs.readdirSync(profiles).sort();
const texts = (ending) => Object.fromEntries(files.filter((name) => name.endsWith(ending))
  .map((name) => [name, fs.readFileSync(path.join(profiles, name), "utf8")]));
const data = {
  schema: JSON.parse(fs.readFileSync(path.join(profiles, "profile.schema.json"), "utf8")),
  demos: texts(".toml"),
  tables: texts(".csv"),
};

// Within an element of a page nothing may look like the end of a script.
const inPage = (text) => text.replace(/<\/script/gi, "<\\/script").replace(/<!--/g, "<\\!--");
const parts = {
  CSS: read("page.css"),
  DATA: inPage(JSON.stringify(data)),
  ENGINE: inPage(`${fs.readFileSync(engine, "utf8")}\n${read("worker.js")}`),
  PACKED: zlib.gzipSync(fs.readFileSync(wasm), { level: 9 }).toString("base64"),
  SCRIPT: inPage(["profile", "base", "form", "answer", "documents", "ask", "page"].map((name) => read(`${name}.js`)).join("\n")),
};
const page = read("page.html").replace(/\/\*([A-Z]+)\*\//g, (whole, name) => {
  if (!(name in parts)) throw new Error(`page.html names ${name}`);
  return parts[name];
});
fs.writeFileSync(`${out}.part`, page);
fs.renameSync(`${out}.part`, out);
