// Reads layer files with two readers that know nothing of hemline, and prints
// what they found as JSON: shapes by the one, attributes and tools by both. Of
// several folders it prints a line each.
//
//   node read.mjs FOLDER…
import {createReadStream, readFileSync, readdirSync} from 'node:fs'
import {join} from 'node:path'
import {Transform} from 'node:stream'
import gerberParser from 'gerber-parser'
import gerberPlotter from 'gerber-plotter'
import tracespace from '@tracespace/parser'

function plot(file) {
  return new Promise((resolve, reject) => {
    const out = {shapes: [], tools: {}, paths: [], warnings: []}
    let dark = true
    // XNC has no option of zeros, since its numbers carry their points; told any, the
    // reader does not look for one.
    const parser = gerberParser(file.endsWith('.xnc') ? {zero: 'T', places: [4, 6]} : {})
    const plotter = gerberPlotter()
    const commands = []
    parser.on('data', (c) => {
      if (c.type === 'tool') out.tools[c.code] = c.tool.params[0]
      commands.push(c)
    })
    parser.on('warning', (w) => out.warnings.push(`${w.line}: ${w.message}`))
    parser.on('error', reject)
    plotter.on('warning', (w) => out.warnings.push(`${w.line}: ${w.message}`))
    plotter.on('error', reject)
    plotter.on('data', (o) => {
      if (o.type === 'polarity') dark = o.polarity === 'dark'
      if (o.type === 'fill') out.shapes.push({dark, path: o.path})
      if (o.type === 'stroke') out.paths.push({width: o.width, path: o.path})
      if (o.type === 'pad') (out.pads ??= []).push([o.tool, o.x, o.y])
      if (o.type === 'size') Object.assign(out, {units: o.units, box: o.box})
    })
    plotter.on('end', () => {
      out.format = parser.format
      resolve(out)
    })
    // XNC is absolute without a word, and the reader has no quadrant mode for numerical
    // control; it would guess.
    if (file.endsWith('.xnc')) {
      plotter.write({type: 'set', prop: 'nota', value: 'A', line: 0})
      plotter.write({type: 'set', prop: 'arc', value: 'm', line: 0})
    }
    createReadStream(file, {encoding: 'utf8'}).pipe(parser).pipe(centred()).pipe(plotter)
  })
}

// centred gives arcs that are stated by their radius a centre. The parser reads the
// radius, and the plotter takes a wrong corner of the chord for it: it would draw another
// arc. At most half a turn, as XNC has it; a radius that does not reach is an error.
function centred() {
  let at = [0, 0]
  let mode = 'i'
  return new Transform({
    objectMode: true,
    transform(c, _, done) {
      if (c.type === 'set' && c.prop === 'mode') mode = c.value
      if (c.type !== 'op') return done(null, c)
      const {x = at[0], y = at[1], a} = c.coord
      if (c.op === 'int' && a != null) {
        const [dx, dy] = [x - at[0], y - at[1]]
        const chord = Math.hypot(dx, dy)
        if (chord / 2 > a + 2e-6) return done(new Error(`line ${c.line}: an arc that does not reach`))
        const rise = (Math.sqrt(Math.max(0, a * a - (chord * chord) / 4)) / chord) * (mode === 'ccw' ? 1 : -1)
        c = {...c, coord: {x, y, i: dx / 2 - dy * rise, j: dy / 2 + dx * rise}}
      }
      at = [x, y]
      done(null, c)
    },
  }).on('error', (e) => {
    throw e
  })
}

// attributes are what the second reader keeps of a file: Gerber attributes as
// unread commands, those of numerical control files as comments.
function attributes(text) {
  const reader = tracespace.createParser()
  reader.feed(text)
  const root = reader.results()
  const list = []
  const counts = {}
  for (const node of root.children) {
    counts[node.type] = (counts[node.type] ?? 0) + 1
    if (node.type === 'unimplemented') list.push(node.value)
    if (node.type === 'comment' && node.comment.includes('#@!')) list.push(node.comment.split('#@!')[1].trim())
    if (node.type === 'units') counts.units = node.units
    if (node.type === 'coordinateFormat') counts.format = node.format
  }
  return {attributes: list, counts, filetype: root.filetype}
}

for (const folder of process.argv.slice(2)) {
  const result = {}
  for (const name of readdirSync(folder).sort()) {
    if (!/\.(gbr|xnc)$/.test(name)) continue
    const file = join(folder, name)
    result[name] = {...(await plot(file)), second: attributes(readFileSync(file, 'utf8'))}
  }
  process.stdout.write(JSON.stringify(result) + '\n')
}
