// Hatches. They keep their spacing on the screen at every zoom, so their
// transform is set anew with it.
const patterns = [
  { id: 'hatch-wrap', size: 5, turn: 45, draw: () => [tint('--plated', 0.16), stroke('M0 2.5H5', '--plated', 1.1)] },
  { id: 'rule-plane', size: 10, turn: 0, draw: () => [tint('--plated', 0.04), stroke('M0 5H10', '--plated', 0.6, 0.28)] },
  { id: 'rule-copper', size: 4, turn: 90, draw: () => [tint('--copper', 0.35), stroke('M0 2H4', '--plated', 0.9)] },
  { id: 'dots-mask', size: 7, turn: 0, draw: () => [tint('--mask', 0.08), dot('--mask')] },
  { id: 'cross-tab', size: 7, turn: 45, draw: () => [tint('--tab', 0.1), stroke('M0 3.5H7M3.5 0V7', '--tab', 0.9)] },
];

function tint(colour, opacity) {
  const r = svg('rect', { width: 10, height: 10, 'fill-opacity': opacity });
  r.style.fill = `var(${colour})`;
  return r;
}

function stroke(d, colour, width, opacity = 1) {
  const p = svg('path', { d, 'stroke-width': width, 'stroke-opacity': opacity, fill: 'none' });
  p.style.stroke = `var(${colour})`;
  p.style.vectorEffect = 'none';
  return p;
}

function dot(colour) {
  const c = svg('circle', { cx: 3.5, cy: 3.5, r: 1 });
  c.style.fill = `var(${colour})`;
  return c;
}

const hatch = (suffix) => patterns.map(({ id, size, turn, draw }) =>
  svg('pattern', { id: id + suffix, width: size, height: size, patternUnits: 'userSpaceOnUse', patternTransform: `rotate(${turn})` }, ...draw()));
const patternNodes = hatch('');
document.body.append(svg('svg', { width: 0, height: 0, 'aria-hidden': 'true' }, svg('defs', {}, ...patternNodes, ...hatch('-key'))));
document.body.lastElementChild.style.position = 'absolute';

function scalePatterns(k, magnify) {
  patterns.forEach(({ turn }, i) => patternNodes[i].setAttribute('patternTransform', `rotate(${turn}) scale(${magnify / k})`));
}

// Marks of findings: the shape says the category, also without colour.
const SHAPES = {
  language: 'M-11 -9H11V9H-11Z',
  unbuildable: 'M-5 -12H5L12 -5V5L5 12H-5L-12 5V-5Z',
  risky: 'M0 -14L13.5 10.5H-13.5Z',
  costly: 'M0 -11.5A11.5 11.5 0 0 1 0 11.5A11.5 11.5 0 0 1 0 -11.5Z',
  tidy: 'M0 -13.5L13.5 0L0 13.5L-13.5 0Z',
};
const WEIGHT = ['tidy', 'costly', 'risky', 'unbuildable', 'language'];
const MEANING = {
  language: 'the text cannot be read here',
  unbuildable: 'the shop cannot make it',
  risky: 'it may not work, or not last',
  costly: 'a query, a delay or a surcharge',
  tidy: 'something in the text has no effect',
};

function mark(category, number) {
  return [
    svg('path', { class: `mark ${category}`, d: SHAPES[category] ?? SHAPES.language }),
    number === undefined ? undefined : svg('text', { class: `markno${String(number).length > 1 ? ' long' : ''}`, y: category === 'risky' ? 7 : 4 }, String(number)),
  ];
}
