package syntax

import (
	"strings"
	"unicode/utf8"
)

// Format writes a document in canonical form. It changes nothing but blank
// space, line breaks between a body's clauses, and semicolons, which become
// line breaks. A statement that could not be read stays as it is, byte for
// byte, and so does one with a comment inside parentheses. Comments stay
// where they are: on their own line before what they explain, or at the end
// of its line. The result formats to itself.
func Format(d *Document) string {
	p := printer{}
	text := d.file.Text()
	all := d.chunks.some(0, d.chunks.n)
	for i, c := range all {
		end := len(text)
		if i+1 < len(all) {
			end = int(all[i+1].start)
		}
		// A chunk that does not start a line follows a semicolon.
		sameLine := c.start > 0 && text[c.start-1] != '\n' && text[c.start-1] != '\r'
		p.chunk(c, text[c.start:end], sameLine)
	}
	p.flush()
	alignRuns(p.lines, keywordColumn, alignKeywords)
	alignRuns(p.lines, nameColumn, alignNames)
	alignRuns(p.lines, letColumn, alignLets)
	alignRuns(p.lines, hasComment, alignComments)
	return join(p.lines, lineEnding(text))
}

// lineEnding is the one that a text uses first.
func lineEnding(text string) string {
	if i := strings.IndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// line is a line of output before it is aligned.
type line struct {
	depth   int
	words   []string // the line's words, joined by single spaces
	comment string
	blank   bool // a blank line stands before it
	raw     string
	holder  string // the keyword of the statement whose body it is in, "" outside
}

type printer struct {
	lines []line
	// of the line being built
	words  []string
	last   Token // last token of the line, to place spaces
	glue   bool  // the next token joins the last word without a space
	depth  int
	parens int
	holder string
	blank  bool
}

// chunk prints one chunk: blank space and comments, then a statement.
func (p *printer) chunk(c chunk, text string, sameLine bool) {
	body := text
	if c.stmt != nil {
		body = text[:c.at-c.start]
	}
	p.trivia(body, sameLine)
	if c.stmt == nil {
		return
	}
	rest := text[c.at-c.start:]
	if c.stmt.asItIs() {
		p.flush()
		p.lines = append(p.lines, line{raw: strings.TrimRight(rest, "\r\n"), blank: p.takeBlank()})
		return
	}
	p.holder = ""
	p.statement(rest, c.stmt.Word())
}

// asItIs tells whether the formatter leaves a statement alone.
func (s *Statement) asItIs() bool {
	if len(s.problems) > 0 || statements[s.Word()] == nil {
		return true
	}
	parens := 0
	for _, t := range Lex(s.text) {
		switch t.Kind {
		case OpenParen:
			parens++
		case CloseParen:
			parens--
		case Comment:
			if parens > 0 {
				return true
			}
		case Bad:
			return true
		}
	}
	return s.hasStrayLine(s.Head)
}

// hasStrayLine finds a body line that begins with no keyword, or with one that
// on a line of its own would begin a statement.
func (s *Statement) hasStrayLine(n *Node) bool {
	for _, b := range n.Body {
		if len(b.tokens) == 0 || b.tokens[0].Kind != Keyword || statements[b.text(0)] != nil || s.hasStrayLine(b) {
			return true
		}
	}
	return false
}

// trivia prints the comments between statements and notes blank lines. A
// comment before the first line end belongs to the line that a semicolon ended.
func (p *printer) trivia(text string, sameLine bool) {
	newlines := 0
	if !sameLine {
		newlines = 1
	}
	for _, t := range Lex(text) {
		switch t.Kind {
		case Newline:
			newlines++
			p.blank = p.blank || newlines > 1
		case Comment:
			comment := strings.TrimRight(text[t.Start:t.End], " \t")
			if newlines == 0 && len(p.lines) > 0 {
				p.trail(comment)
				continue
			}
			p.lines = append(p.lines, line{depth: p.depth, comment: comment, blank: p.takeBlank()})
			newlines = 0
		}
	}
}

// trail puts a comment at the end of the last line.
func (p *printer) trail(comment string) {
	last := &p.lines[len(p.lines)-1]
	switch {
	case last.raw != "":
		last.raw += " " + comment
	case last.comment != "":
		p.lines = append(p.lines, line{depth: last.depth, comment: comment})
	default:
		last.comment = comment
	}
}

func (p *printer) takeBlank() bool {
	b := p.blank && len(p.lines) > 0 && !opens(&p.lines[len(p.lines)-1])
	p.blank = false
	return b
}

// statement prints a statement's tokens line by line.
func (p *printer) statement(text, word string) {
	newlines := 0
	for _, t := range Lex(text) {
		if t.Kind != Newline && t.Kind != Space && t.Kind != Comment {
			newlines = 0
		}
		switch t.Kind {
		case Space:
		case Newline:
			if p.parens > 0 {
				continue
			}
			if p.flush(); newlines > 0 {
				p.blank = true
			}
			newlines++
		case Semicolon:
			p.flush()
		case Comment:
			comment := strings.TrimRight(text[t.Start:t.End], " \t")
			if newlines == 0 {
				p.flush()
				p.trail(comment)
				continue
			}
			p.lines = append(p.lines, line{depth: p.depth, comment: comment, blank: p.takeBlank(), holder: p.holder})
			newlines = 0
		case OpenBrace:
			p.word("{", t)
			p.flush()
			p.depth++
			p.holder, p.blank = word, false
		case CloseBrace:
			p.flush()
			p.depth = max(p.depth-1, 0)
			p.blank = false
			if p.depth == 0 {
				p.holder = ""
			}
			p.word("}", t)
			p.flush()
		default:
			p.word(text[t.Start:t.End], t)
		}
	}
	p.flush()
	p.depth, p.parens = 0, 0
}

// word adds a token to the line, with a space before it or none.
func (p *printer) word(text string, t Token) {
	join := len(p.words) > 0 && (p.glue || t.Kind == CloseParen || t.Kind == Comma || t.Kind == OpenParen && p.last.Kind == Function)
	if join {
		p.words[len(p.words)-1] += text
	} else {
		p.words = append(p.words, text)
	}
	switch t.Kind {
	case OpenParen:
		p.parens++
	case CloseParen:
		p.parens--
	}
	p.glue = t.Kind == OpenParen || t.Kind == Minus && !endsValue(p.last.Kind)
	p.last = t
}

// endsValue tells whether a minus after a token of this kind is an operator.
func endsValue(k Kind) bool {
	switch k {
	case Number, Unit, Name, CloseParen, Text:
		return true
	}
	return false
}

// flush ends the line that is being built.
func (p *printer) flush() {
	if len(p.words) > 0 {
		p.lines = append(p.lines, line{depth: p.depth, words: p.words, blank: p.takeBlank(), holder: p.holder})
		p.words = nil
	}
	p.last, p.glue = Token{}, false
}

func (l *line) code() string { return strings.Join(l.words, " ") }

func width(s string) int { return utf8.RuneCountInString(s) }

func pad(s string, to int) string { return s + strings.Repeat(" ", max(0, to-width(s))) }

// alignRuns calls align with each run of neighbouring lines, with no blank
// line between them, that are in a column.
func alignRuns(lines []line, in func(*line) bool, align func([]line)) {
	for i := 0; i < len(lines); {
		if !in(&lines[i]) {
			i++
			continue
		}
		j := i + 1
		for j < len(lines) && in(&lines[j]) && !lines[j].blank && lines[j].depth == lines[i].depth {
			j++
		}
		align(lines[i:j])
		i = j
	}
}

func opens(l *line) bool { return len(l.words) > 0 && l.words[len(l.words)-1] == "{" }

// A body's lines have their first values under each other.
func keywordColumn(l *line) bool {
	return l.holder != "" && len(l.words) > 0 && l.words[0] != "}" && !opens(l)
}

func alignKeywords(run []line) {
	most := 0
	for _, l := range run {
		if len(l.words) > 1 {
			most = max(most, width(l.words[0]))
		}
	}
	for i := range run {
		if len(run[i].words) > 1 {
			run[i].words[0] = pad(run[i].words[0], most)
		}
	}
}

// Where a body's lines each give a name (a stack's layers, a path's pieces),
// what follows the name is under each other as well.
func nameColumn(l *line) bool {
	if !keywordColumn(l) || len(l.words) < 3 {
		return false
	}
	spec := statements[l.holder].Clause(strings.TrimRight(l.words[0], " "))
	return spec != nil && len(spec.Args) > 0 && spec.Args[0].Kind == VNew
}

func alignNames(run []line) {
	most := 0
	for _, l := range run {
		most = max(most, width(l.words[1]))
	}
	for i := range run {
		run[i].words[1] = pad(run[i].words[1], most)
	}
}

// Neighbouring lets have their equals signs under each other.
func letColumn(l *line) bool {
	return l.holder == "" && len(l.words) > 3 && l.words[0] == "let" && l.words[2] == "="
}

func alignLets(run []line) { alignNames(run) }

// A body's comments at line ends are under each other. Those of neighbouring
// statements are not: a clause more in one would change the lines of others.
func hasComment(l *line) bool { return l.depth > 0 && l.comment != "" && len(l.words) > 0 }

func alignComments(run []line) {
	most := 0
	for i := range run {
		most = max(most, width(run[i].code()))
	}
	for i := range run {
		run[i].words = []string{pad(run[i].code(), most)}
	}
}

func join(lines []line, ending string) string {
	var b strings.Builder
	oneEnding := strings.NewReplacer("\r\n", ending, "\r", ending, "\n", ending)
	for i := range lines {
		l := &lines[i]
		if l.blank && i > 0 {
			b.WriteString(ending)
		}
		if l.raw != "" {
			// Of what is left alone the line ends are not: the next time the
			// first of them could count as the file's.
			b.WriteString(oneEnding.Replace(l.raw) + ending)
			continue
		}
		b.WriteString(strings.Repeat("  ", l.depth))
		b.WriteString(l.code())
		if l.comment != "" {
			if len(l.words) > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(l.comment)
		}
		b.WriteString(ending)
	}
	return b.String()
}
