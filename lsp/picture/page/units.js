'use strict';
// Numbers as people read them. The page's lengths are mm throughout.
const MM_PER_MIL = 0.0254;
let unit = 'mm';

function trimmed(value, digits) {
  return Number(value.toFixed(digits)).toString().replace('-', '−');
}

/** A length in mm, in the unit that is chosen; small ones in µm. */
function length(mm) {
  if (unit === 'mil') return `${trimmed(mm / MM_PER_MIL, 2)} mil`;
  if (mm !== 0 && Math.abs(mm) < 0.1) return `${trimmed(mm * 1000, 1)} µm`;
  return `${trimmed(mm, 3)} mm`;
}

/** A length that is read off a drawing, to 0.01 mm. */
const rough = (mm) => (unit === 'mil' ? length(mm) : `${trimmed(mm, 2)} mm`);

/** One fact of an item: [label, number or text, unit]. */
function fact([, value, of]) {
  if (typeof value === 'string') return value;
  if (of === 'mm') return length(value);
  return of === '%' ? `${trimmed(value, 1)} %` : trimmed(value, 3);
}

/** Everything said of an item, as one sentence for those who do not see it. */
function sentence(item, found) {
  const facts = (item.facts ?? []).map((f) => `${f[0]} ${fact(f)}`);
  const words = [titleOf(item), item.of, ...facts].filter(Boolean);
  for (const f of found) words.push(`finding ${f.number}, ${f.category}: ${f.message}`);
  return words.join(', ');
}

function titleOf(item) {
  return item.name ? `${item.kind} ${item.name}` : item.kind;
}

/** Makes an element of HTML; texts become text nodes, never markup. */
function html(tag, attributes, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

function svg(tag, attributes, ...children) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);
}

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value !== undefined && value !== false) element.setAttribute(name, value === true ? '' : value);
  }
  element.append(...children.filter((c) => c !== undefined && c !== null));
  return element;
}
