// A profile as text, seen as fields: every line "key = value" is one, with the comment above it as
// its question. Changing a field changes that value in the text and nothing else.
"use strict";

const HEAD = /^\s*(\[\[?)\s*([^\]]+?)\s*(\]\]?)\s*(?:#.*)?$/;
const PAIR = /^(\s*)((?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*")(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"))*)\s*=\s*(.*)$/;

/** Where a value ends in `text`: before its comment; open brackets or quotes are told. */
function valueEnd(text) {
  let depth = 0;
  let quote = "";
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i];
    if (quote) {
      if (c === "\\" && quote === '"') i += 1;
      else if (c === quote) quote = "";
    } else if (c === '"' || c === "'") quote = c;
    else if (c === "[" || c === "{") depth += 1;
    else if (c === "]" || c === "}") depth -= 1;
    else if (c === "#" && depth > 0) { // a comment within a list of several lines
      const end = text.indexOf("\n", i);
      if (end < 0) return { end: text.length, open: true };
      i = end;
    } else if (c === "#" || (c === "\n" && depth === 0)) return { end: i, open: false };
  }
  return { end: text.length, open: depth > 0 };
}

const bare = (name) => (/^".*"$/.test(name) ? JSON.parse(name) : name);
const keyParts = (key) => (key.match(/"(?:[^"\\]|\\.)*"|[^.\s]+/g) ?? []).map(bare);

/** Tables in order, each with its fields. Lines count from 0. `isKey(table, key)` tells whether a
 * commented-out line is a question that was left out. */
function tablesOf(text, isKey = () => false) {
  const lines = text.split("\n");
  const tables = [{ head: "", name: "", list: false, line: -1, about: [], fields: [] }];
  let comments = [];
  for (let i = 0; i < lines.length; i += 1) {
    const table = tables[tables.length - 1];
    const head = lines[i].match(HEAD);
    const commented = lines[i].match(/^#\s?(.*)$/);
    const left = commented && commented[1].match(PAIR);
    const pair = lines[i].match(PAIR);
    if (head && !pair) {
      const named = { head: lines[i].trim(), name: keyParts(head[2]).map(quoted).join("."), list: head[1] === "[[", line: i };
      tables.push({ ...named, about: comments, fields: [] });
      comments = [];
    } else if (pair || (left && isKey(table.name, left[2]))) {
      const found = pair ?? left;
      let whole = found[3];
      let last = i;
      if (pair) {
        while (valueEnd(whole).open && last + 1 < lines.length) whole += `\n${lines[last += 1]}`;
      }
      const value = whole.slice(0, valueEnd(whole).end).trimEnd();
      table.fields.push({ key: found[2].trim(), value, line: i, last, left_out: !pair, about: comments });
      comments = [];
      i = last;
    } else if (commented) {
      comments.push(commented[1]);
    } else {
      comments = [];
    }
  }
  return withPaths(tables);
}

const quoted = (part) => (/^[A-Za-z0-9_-]+$/.test(part) ? part : JSON.stringify(part));

/** Each table's own name, and the path by which answers speak of it: "pulley.cam.pin". What has no
 * name of its own goes by its number. */
function withPaths(tables) {
  const entries = new Map(); // the entry of each list that is open: its path, and how many there were
  for (const table of tables) {
    const named = table.fields.find((field) => field.key === "name" && !field.left_out);
    table.own_name = named ? readText(named.value) : "";
    const parts = table.name ? keyParts(table.name) : [];
    table.path = [];
    parts.forEach((part, i) => {
      const list = parts.slice(0, i + 1).join(".");
      table.path.push(part);
      const last = i + 1 === parts.length;
      if (last && table.list) {
        const count = (entries.get(list)?.count ?? 0) + 1;
        entries.set(list, { count, name: table.own_name || String(count) });
        for (const below of [...entries.keys()]) if (below.startsWith(`${list}.`)) entries.delete(below);
      }
      if ((!last || table.list) && entries.has(list)) table.path.push(entries.get(list).name);
    });
  }
  return tables;
}

/** The path by which answers speak of a field: "pulley.cam.mark_deg". */
const pathOf = (table, field) => [...table.path, ...keyParts(field.key)].join(".");

/** The same without names, as sketches and the schema speak of it: "pulley.mark_deg". */
const plainPathOf = (table, key) => [...(table.name ? [table.name] : []), key].join(".");

function readText(value) {
  const text = value.trim();
  if (/^"/.test(text)) {
    try { return JSON.parse(text); } catch { return text; }
  }
  if (/^'.*'$/.test(text)) return text.slice(1, -1);
  return text;
}

/** A value as somebody would type it: text without quotes, a list of numbers without brackets. */
function shownValue(value, kind) {
  const text = readText(value);
  const plain = /^\[([^[\]{}"'#\n]*)\]$/.exec(text);
  return kind === "list" && plain ? plain[1].trim() : text;
}

const asNumber = (text) => {
  const number = text.replace(/^([+-]?\d*),(\d+)$/, "$1.$2").replace(/^\u2212/, "-");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(number)) return null;
  return number.replace(/^([+-]?)\./, "$10.").replace(/\.$/, "").replace(/^\+/, "");
};

/** What somebody typed, as a value of the file's format; `kind` is "number", "text", "list", "any". */
function typedValue(typed, kind) {
  const text = typed.trim();
  if (kind === "text") return JSON.stringify(text);
  const unquoted = kind === "number" ? text.replace(/^["'\u201c\u201d\u2018\u2019](.*)["'\u201c\u201d\u2018\u2019]$/, "$1").trim() : text;
  const number = asNumber(unquoted);
  if (number !== null) return kind === "list" ? `[${number}]` : number;
  if (/^(true|false)$/.test(text)) return text;
  if (/^[[{]/.test(text) || (kind !== "number" && /^["']/.test(text))) return text;
  if (kind === "list") {
    // A comma behind which no blank stands is a decimal one: "12,5; 30" or "12.5, 30".
    const parts = text.includes(";") ? text.split(";") : text.split(/,\s+|\s+|(?<=\.\d*),/);
    return `[${parts.filter((part) => part.trim()).map((part) => typedValue(part, "any")).join(", ")}]`;
  }
  return JSON.stringify(unquoted);
}

const UNIT = /_(mm|in|thou|deg|nm|lbf_ft|n|hz|cc|kg_per_m|g_per_m|g|bar|rpm)$/;
/** A key without its unit: the same number, however it is measured. */
const withoutUnit = (key) => key.replace(UNIT, "");
const TYPED_UNITS = { mm: "mm", in: "in", inch: "in", inches: "in", '"': "in", "\u2033": "in", thou: "thou", deg: "deg", "\u00b0": "deg",
  degrees: "deg", nm: "nm", n: "n", hz: "hz", cc: "cc", g: "g", bar: "bar", rpm: "rpm" };

/** A unit typed behind a number goes into the key, where there is such a key: "2.36 in" for
 * diameter_mm gives diameter_in and "2.36". Anything else stays as it was typed. */
function unitTyped(key, typed, isKey) {
  const found = typed.trim().match(/^([+-]?[\d.,]*\d)\s*(\D+)$/);
  const unit = found && TYPED_UNITS[found[2].trim().toLowerCase()];
  const other = unit && UNIT.test(key) ? key.replace(UNIT, `_${unit}`) : null;
  return other && (other === key || isKey(other)) ? { key: other, typed: found[1] } : { key, typed };
}

/** The text with a field's value in place of its old one; an empty one leaves the line out. */
function withValue(text, field, value) {
  const lines = text.split("\n");
  const whole = lines.slice(field.line, field.last + 1).join("\n").replace(/^#\s?/, field.left_out ? "" : "$&");
  const [, indent, key, rest] = whole.match(/^(\s*)([^=]*?\S)\s*=\s*([\s\S]*)$/);
  const after = rest.slice(valueEnd(rest).end);
  const gap = after.startsWith("#") ? " " : "";
  const line = value === "" ? `# ${key} = ${rest.replace(/\n/g, " ")}` : `${indent}${key} = ${value}${gap}${after.trimEnd()}`;
  lines.splice(field.line, field.last - field.line + 1, line);
  return lines.join("\n");
}

/** The text with another key in the same field: another unit of length. */
function withKey(text, field, key) {
  const lines = text.split("\n");
  lines[field.line] = lines[field.line].replace(field.key, () => key);
  return lines.join("\n");
}

/** The text with one more line in a table; a table that is not there yet comes at the end. */
function withNew(text, table, key, value) {
  const lines = text.split("\n");
  if (!table || table.line === undefined) return `${text.trimEnd()}\n\n${table ? table.head : ""}\n${key} = ${value}\n`;
  const last = table.fields.filter((field) => !field.left_out).at(-1);
  lines.splice((last ? last.last : table.line) + 1, 0, `${key} = ${value}`);
  return lines.join("\n");
}

/** The lines of one entry of a list with all that belongs to it: [from, to) from its own comments to
 * those of what comes after it. */
function blockOf(text, tables, index) {
  const start = (table) => table.line - table.about.length;
  const below = `${tables[index].name}.`;
  const next = tables.slice(index + 1).find((table) => !table.name.startsWith(below));
  return [start(tables[index]), next ? start(next) : text.split("\n").length];
}

function withoutBlock(text, tables, index) {
  const lines = text.split("\n");
  const [from, to] = blockOf(text, tables, index);
  lines.splice(from, to - from);
  return lines.join("\n");
}

/** One entry more, behind the one it is a copy of, under a name of its own. */
function withCopy(text, tables, index) {
  const lines = text.split("\n");
  const [from, to] = blockOf(text, tables, index);
  const copy = lines.slice(from, to);
  const named = tables[index].fields.find((field) => field.key === "name" && !field.left_out);
  if (named) {
    const taken = new Set(tables.map((table) => table.own_name));
    let count = 2;
    while (taken.has(`${tables[index].own_name} ${count}`)) count += 1;
    copy[named.line - from] = `name = ${JSON.stringify(`${tables[index].own_name} ${count}`)}`;
  }
  if (copy.at(-1)?.trim()) copy.push("");
  if (lines[to - 1]?.trim()) copy.unshift("");
  lines.splice(to, 0, ...copy);
  return lines.join("\n");
}

/** More lines behind one entry of a list and what belongs to it. */
function withLines(text, tables, index, added) {
  const lines = text.split("\n");
  const [, to] = blockOf(text, tables, index);
  lines.splice(to, 0, ...(lines[to - 1]?.trim() ? [""] : []), ...added, "");
  return lines.join("\n");
}

/** One entry a place earlier among its like. */
function withEarlier(text, tables, index) {
  const before = tables.slice(0, index).findLastIndex((table) => table.name === tables[index].name);
  if (before < 0) return text;
  const lines = text.split("\n");
  const [from, to] = blockOf(text, tables, index);
  const moved = lines.splice(from, to - from);
  if (moved.at(-1)?.trim()) moved.push("");
  lines.splice(blockOf(text, tables, before)[0], 0, ...moved);
  return lines.join("\n");
}

/** What the schema says of a key of a table; null where it knows none. */
function schemaOf(schema, name, key) {
  const settle = (node) => {
    let at = node;
    for (let i = 0; at && i < 8; i += 1) {
      const to = at.$ref ?? at.allOf?.find((part) => part.$ref)?.$ref;
      if (to) {
        const target = to.replace("#/", "").split("/").reduce((from, part) => from?.[part], schema);
        at = { ...target, ...(at.description ? { description: at.description } : {}) };
      } else if (at.type === "array" && at.items && !at.items.type?.includes?.("number")) {
        const items = settle(at.items);
        return items?.properties ? { ...items, description: at.description ?? items.description } : at;
      } else break;
    }
    return at;
  };
  let at = settle(schema);
  for (const part of [...(name ? keyParts(name) : []), ...keyParts(key)]) {
    const table = settle(at);
    const next = [table, ...(table?.anyOf ?? [])].map((one) => one?.properties?.[part] ??
      (typeof one?.additionalProperties === "object" ? one.additionalProperties : null)).find(Boolean);
    if (!next) return null;
    at = { ...next, description: next.description ?? table.description };
  }
  return settle(at);
}

/** "number", "text", "list", "words", "flag" or "any". */
function kindOf(spec) {
  if (!spec) return "any";
  if (spec.enum) return spec.enum.every((word) => typeof word === "string") ? "words" : "any";
  const types = [spec.type ?? (spec.anyOf ?? spec.oneOf ?? []).map((one) => one.type)].flat();
  if (types.includes("array") && !types.includes("number")) return "list";
  if (types.length === 1 && types[0] === "string") return "text";
  if (types.includes("boolean")) return "flag";
  return types.some((type) => type === "number" || type === "integer") ? "number" : "any";
}

if (typeof module !== "undefined") {
  module.exports = { kindOf, pathOf, plainPathOf, readText, schemaOf, shownValue, tablesOf, typedValue, unitTyped, valueEnd,
    withCopy, withEarlier, withKey, withLines, withNew, withValue, withoutBlock, withoutUnit };
}
