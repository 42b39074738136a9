package syntax

import (
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"hemline/lang/source"
)

// Document is one version of a text as a list of statements. Parsing never
// fails: what cannot be read is a statement with problems.
type Document struct {
	file       *source.File
	chunks     chunks
	statements []*Statement
	hidden     []int32 // the offsets of characters that nobody sees; see source.Hidden
	// whole is what places that belong to no statement are fastened to; it
	// serves this version only.
	whole source.Anchor
}

// chunk is a part of the text that holds at most one statement, and the
// blank space and comments before it; the chunks cover the text without gap.
// Where a chunk starts, reading starts with no memory of what came before:
// that is what lets an edit be read again from the chunk before it only.
type chunk struct {
	start int32 // of the chunk
	at    int32 // of the statement's first byte
	stmt  *Statement
}

// orderStep is the room left between the orders of neighbouring statements,
// for those that are typed between them later.
const orderStep = 1 << 40

// Parse reads a text. It takes over from prev, an earlier version of the same
// text or nil, every statement whose text and neighbourhood did not change.
func Parse(file *source.File, prev *Document) *Document {
	if prev == nil || prev.file.Path() != file.Path() {
		return parseAll(file)
	}
	front, back := source.Shared(prev.file, file)
	if front == file.Len() && front == prev.file.Len() {
		return newDocument(file, prev.chunks, prev.hidden)
	}
	d, ok := parseAround(file, prev, front, back)
	if !ok {
		return parseAll(file)
	}
	return d
}

func newDocument(file *source.File, chunks chunks, hidden []int32) *Document {
	d := &Document{file: file, chunks: chunks, hidden: hidden, statements: make([]*Statement, 0, chunks.n), whole: source.Anchor{Path: file.Path()}}
	for _, p := range chunks.pages {
		for i := range p.list {
			if s := p.list[i].stmt; s != nil {
				d.statements = append(d.statements, s)
			}
		}
	}
	return d
}

// Place fastens a span of this version's text to no statement.
func (d *Document) Place(s source.Span) source.Place {
	return source.Place{Anchor: &d.whole, Start: int32(s.Start), End: int32(s.End)}
}

func parseAll(file *source.File) *Document {
	text := file.Text()
	c := cutter{scanner: scanner{text: text}}
	chunks := make([]chunk, 0, file.Lines()*3/4+1)
	for order := uint64(orderStep); c.pos < len(text); order += orderStep {
		chunks = append(chunks, c.cut(file.Path(), order))
	}
	return newDocument(file, newChunks(chunks), source.Hidden(text, 0, len(text)))
}

// window is how much of a text is taken into one piece at first to read what an edit
// touched, beyond the edit.
const window = 4 << 10

// parseAround reads again only the chunks that an edit touched: the texts share so many
// bytes at the front and at the back. It fails when there is no room left to number new
// statements.
func parseAround(file *source.File, prev *Document, same, tail int) (*Document, bool) {
	length := file.Len()
	oldEnd, shift := prev.file.Len()-tail, length-prev.file.Len()

	// One chunk before the one that holds the edit's first byte: an edit may
	// take away the line end or the keyword that ended it.
	first := max(sort.Search(prev.chunks.n, func(i int) bool { return int(prev.chunks.at(i).start) >= same })-2, 0)
	from := 0
	if first < prev.chunks.n {
		from = int(prev.chunks.at(first).start)
	}
	var fresh []chunk
	next := 0
	for size, read := length-tail-from+window, false; !read; size *= 4 {
		fresh, next, read = recut(file, prev, from, size, first, oldEnd, shift)
	}
	to := length
	if next < prev.chunks.n {
		to = int(prev.chunks.at(next).start) + shift
	}
	hidden := hiddenAround(prev.hidden, file, from, to, shift)
	old := prev.chunks.some(first, next)
	keepStatements(fresh, old)
	if !assignOrders(fresh, prev.orderBefore(first), prev.orderAfter(next)) {
		return nil, false
	}
	chunks := prev.chunks.splice(first, next, fresh, int32(shift))
	return newDocument(file, chunks, hidden), true
}

// hiddenAround is what is hidden in a text of which the part from one offset to
// another was read again, and the rest was moved by a shift.
func hiddenAround(old []int32, file *source.File, from, to, shift int) []int32 {
	start := max(from-utf8.UTFMax, 0) // what is hidden may depend on the characters beside it
	fresh := source.Hidden(file.Slice(source.Span{Start: start, End: to + utf8.UTFMax}), from-start, to-start)
	for i := range fresh {
		fresh[i] += int32(start)
	}
	before, _ := slices.BinarySearch(old, int32(from))
	after, _ := slices.BinarySearch(old, int32(to-shift))
	if len(fresh) == 0 && before == 0 && after == len(old) {
		return nil
	}
	list := slices.Concat(old[:before], fresh)
	for _, at := range old[after:] {
		list = append(list, at+int32(shift))
	}
	return list
}

// recut cuts chunks off a text from an offset on, until one begins where one of prev did,
// the first at the earliest, behind what changed; next is the number of that. No more
// than so many bytes are looked at, or a page more: read is false where they are not enough.
func recut(file *source.File, prev *Document, from, size, first, oldEnd, shift int) (fresh []chunk, next int, read bool) {
	// The fresh statements keep their piece of the text, not all of it, alive.
	text, whole := file.From(from, size)
	c := cutter{scanner: scanner{text: text}}
	next = first
	for c.pos < len(text) {
		at := c.pos + from
		for next < prev.chunks.n && (int(prev.chunks.at(next).start) < oldEnd || int(prev.chunks.at(next).start)+shift < at) {
			next++
		}
		if next < prev.chunks.n && int(prev.chunks.at(next).start)+shift == at {
			return fresh, next, true
		}
		ch := c.cut(file.Path(), 0)
		if c.pos >= len(text) && !whole {
			return nil, 0, false // it may go on
		}
		ch.start, ch.at = ch.start+int32(from), ch.at+int32(from)
		fresh = append(fresh, ch)
	}
	return fresh, prev.chunks.n, true
}

// keepStatements lets statements that were read again but say the same keep
// their identity, matched from the front and from the back.
func keepStatements(fresh, old []chunk) {
	i := 0
	for ; i < len(fresh) && i < len(old) && sameText(fresh[i], old[i]); i++ {
		fresh[i].stmt = old[i].stmt
	}
	for j := 1; j <= len(fresh)-i && j <= len(old)-i; j++ {
		f, o := &fresh[len(fresh)-j], old[len(old)-j]
		if !sameText(*f, o) {
			break
		}
		f.stmt = o.stmt
	}
}

func sameText(a, b chunk) bool {
	return a.stmt != nil && b.stmt != nil && a.stmt.text == b.stmt.text
}

// assignOrders gives new statements orders between low and high, those that
// were kept having theirs already.
func assignOrders(fresh []chunk, low, high uint64) bool {
	next := 0 // the statement of the nearest limit ahead, or the end
	limit := high
	for i := range fresh {
		s := fresh[i].stmt
		if s == nil {
			continue
		}
		if s.anchor.Order != 0 {
			low = s.anchor.Order
			continue
		}
		if next <= i {
			limit = high
			for next = i + 1; next < len(fresh); next++ {
				if later := fresh[next].stmt; later != nil && later.anchor.Order != 0 {
					limit = later.anchor.Order
					break
				}
			}
		}
		// Small steps: lines typed one after another all go forward.
		step := min((limit-low)/2, 1<<20)
		if step == 0 {
			return false
		}
		low += step
		s.anchor.Order = low
	}
	return true
}

func (d *Document) orderBefore(i int) uint64 {
	for i--; i >= 0; i-- {
		if s := d.chunks.at(i).stmt; s != nil {
			return s.anchor.Order
		}
	}
	return 0
}

func (d *Document) orderAfter(i int) uint64 {
	for ; i < d.chunks.n; i++ {
		if s := d.chunks.at(i).stmt; s != nil {
			return s.anchor.Order
		}
	}
	return d.orderBefore(d.chunks.n) + 2*orderStep
}

// cutter cuts chunks off a text.
type cutter struct {
	scanner
	tokens []Token // of the statement being read, scratch
}

// cut reads one chunk: a statement ends with its line or at a semicolon
// outside braces and parentheses, and where a line begins with a statement's
// keyword, whatever is still open, unless it is a clause of what is open.
func (c *cutter) cut(path string, order uint64) chunk {
	start := c.pos
	c.afterNumber = false
	c.tokens = c.tokens[:0]
	braces, parens, lineStart, last := 0, 0, true, 0
scan:
	for {
		t := c.next()
		switch t.Kind {
		case End:
			break scan
		case Space, Comment:
			continue
		case Newline, Semicolon:
			if len(c.tokens) > 0 && braces == 0 && (parens == 0 || t.Kind == Semicolon) {
				break scan
			}
			lineStart = lineStart || t.Kind == Newline
			if len(c.tokens) > 0 {
				c.tokens = append(c.tokens, t)
			}
			continue
		case Keyword:
			if word := c.text[t.Start:t.End]; lineStart && len(c.tokens) > 0 && statements[word] != nil && !(braces > 0 && c.takes(word)) {
				c.pos = int(t.Start)
				break scan
			}
		case OpenBrace:
			braces++
			parens = 0
		case CloseBrace:
			braces, parens = max(braces-1, 0), 0
		case OpenParen:
			parens++
		case CloseParen:
			parens = max(parens-1, 0)
		}
		lineStart = false
		c.tokens = append(c.tokens, t)
		last = len(c.tokens)
	}
	if last == 0 {
		return chunk{int32(start), int32(c.pos), nil}
	}
	tokens := c.tokens[:last] // trailing line ends are the chunk's, not the statement's
	at := tokens[0].Start
	text := strings.Clone(c.text[at:tokens[last-1].End])
	for i := range tokens {
		tokens[i].Start -= at
		tokens[i].End -= at
	}
	return chunk{int32(start), at, build(path, order, text, tokens)}
}

// takes tells whether the statement being read, or a clause of it that is still
// open, has a clause with a keyword: inside braces, a line that begins with it is
// that clause, even where the word is a statement's too.
func (c *cutter) takes(word string) bool {
	var names namer
	for i := range c.tokens {
		names.kind(at(c.tokens, i, c.text), at(c.tokens, i+1, c.text))
	}
	_, clause := holderOf(names.open, word)
	return clause != nil
}

// holderOf is the number of the innermost clause that takes a keyword, of those
// that are open, and what the vocabulary says of it there; nil where none does.
func holderOf(open []*Spec, word string) (int, *Spec) {
	for i := len(open) - 1; i >= 0; i-- {
		if clause := open[i].Clause(word); clause != nil {
			return i, clause
		}
	}
	return -1, nil
}

// File is the text that was read.
func (d *Document) File() *source.File { return d.file }

// Statements lists the statements in order. The list is shared; it must not be
// changed.
func (d *Document) Statements() []*Statement { return d.statements }

// Hidden lists the offsets of the characters that nobody sees, as source.Hidden
// has them. The list is shared; it must not be changed.
func (d *Document) Hidden() []int32 { return d.hidden }

// Commented tells of each of ascending offsets whether it lies in a comment, or in the
// space between statements.
func (d *Document) Commented(offsets []int32) []bool {
	is := make([]bool, len(offsets))
	var within *Statement
	var scan scanner // of its text, gone through once
	var t Token
	for i, offset := range offsets {
		s, at := d.At(int(offset))
		if s == nil || at < 0 || at >= len(s.text) {
			is[i] = true
			continue
		}
		if s != within {
			within, scan = s, scanner{text: s.text}
			t = scan.next()
		}
		for int(t.End) <= at && t.Kind != End {
			t = scan.next()
		}
		is[i] = t.Kind == Comment
	}
	return is
}

// find is the index of the chunk that holds an anchor's statement.
func (d *Document) find(a *source.Anchor) (int, bool) {
	// Chunks without a statement stand only at the end.
	n := d.chunks.n
	for n > 0 && d.chunks.at(n-1).stmt == nil {
		n--
	}
	i := sort.Search(n, func(i int) bool { return d.chunks.at(i).stmt.anchor.Order >= a.Order })
	return i, i < n && &d.chunks.at(i).stmt.anchor == a
}

// Locate tells where a place stands in this version of the text.
func (d *Document) Locate(p source.Place) (source.Span, bool) {
	if p.Anchor == nil {
		return source.Span{}, false
	}
	if p.Anchor == &d.whole {
		return source.Span{Start: int(p.Start), End: int(p.End)}, true
	}
	i, ok := d.find(p.Anchor)
	if !ok {
		return source.Span{}, false
	}
	at := int(d.chunks.at(i).at)
	return source.Span{Start: at + int(p.Start), End: at + int(p.End)}, true
}

// At is the statement whose chunk holds an offset, and the offset counted from
// the statement's first byte (negative in the space before it); nil if there is none.
func (d *Document) At(offset int) (*Statement, int) {
	i := sort.Search(d.chunks.n, func(i int) bool { return int(d.chunks.at(i).start) > offset }) - 1
	if i < 0 || d.chunks.at(i).stmt == nil {
		return nil, 0
	}
	return d.chunks.at(i).stmt, offset - int(d.chunks.at(i).at)
}

// Using lists the `use` statements.
func (d *Document) Using() []*Statement {
	var list []*Statement
	for _, s := range d.statements {
		if strings.HasPrefix(s.text, "use") && s.Word() == "use" {
			list = append(list, s)
		}
	}
	return list
}

// Holding finds the statement of this version that a place lies in.
func (d *Document) Holding(p source.Place) (*Statement, bool) {
	if p.Anchor == nil {
		return nil, false
	}
	i, ok := d.find(p.Anchor)
	if !ok {
		return nil, false
	}
	return d.chunks.at(i).stmt, true
}
