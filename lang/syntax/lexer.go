package syntax

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hemline/lang/quantity"
)

// Lex cuts a text into tokens, offsets counted from its start. It is total
// and gapless: every byte of any text, UTF-8 or not, belongs to one token.
func Lex(text string) []Token {
	s := scanner{text: text}
	var tokens []Token
	for {
		t := s.next()
		if t.Kind == End {
			return tokens
		}
		tokens = append(tokens, t)
	}
}

// scanner reads tokens one after another. Its only memory is whether the
// last token that counts was a number, which makes the next word a unit.
type scanner struct {
	text        string
	pos         int
	afterNumber bool
}

func (s *scanner) next() Token {
	start := s.pos
	if start >= len(s.text) {
		return Token{End, int32(start), int32(start)}
	}
	kind := s.scan(s.text[start])
	if kind != Space {
		s.afterNumber = kind == Number
	}
	return Token{kind, int32(start), int32(s.pos)}
}

var single = [256]Kind{
	'{': OpenBrace, '}': CloseBrace, '(': OpenParen, ')': CloseParen, ',': Comma,
	'=': Equals, '+': Plus, '-': Minus, '*': Star, ';': Semicolon,
}

func (s *scanner) scan(c byte) Kind {
	switch {
	case c == ' ' || c == '\t':
		for s.pos < len(s.text) && (s.text[s.pos] == ' ' || s.text[s.pos] == '\t') {
			s.pos++
		}
		return Space
	case c == '\n' || c == '\r':
		s.pos++
		if c == '\r' && s.pos < len(s.text) && s.text[s.pos] == '\n' {
			s.pos++
		}
		return Newline
	case c == '/':
		return s.slash()
	case single[c] != 0:
		s.pos++
		return single[c]
	case c >= '0' && c <= '9':
		s.number()
		return Number
	case c == '"':
		return s.quoted()
	case c == '%' && s.afterNumber:
		s.pos++
		return Unit
	}
	return s.wordOrBad()
}

func (s *scanner) slash() Kind {
	if !strings.HasPrefix(s.text[s.pos:], "//") {
		s.pos++
		return Slash
	}
	if n := strings.IndexAny(s.text[s.pos:], "\r\n"); n >= 0 {
		s.pos += n
	} else {
		s.pos = len(s.text)
	}
	return Comment
}

func (s *scanner) digits() {
	for s.pos < len(s.text) && s.text[s.pos] >= '0' && s.text[s.pos] <= '9' {
		s.pos++
	}
}

func digitAt(text string, i int) bool { return i < len(text) && text[i] >= '0' && text[i] <= '9' }

func (s *scanner) number() {
	s.digits()
	if s.pos < len(s.text) && s.text[s.pos] == '.' && digitAt(s.text, s.pos+1) {
		s.pos++
		s.digits()
	}
	if s.pos < len(s.text) && (s.text[s.pos] == 'e' || s.text[s.pos] == 'E') {
		at := s.pos + 1
		if at < len(s.text) && (s.text[at] == '+' || s.text[at] == '-') {
			at++
		}
		if digitAt(s.text, at) {
			s.pos = at
			s.digits()
		}
	}
}

// quoted reads a text in quotes; it ends on its line. A backslash before a
// quote or a backslash takes that character as it is.
func (s *scanner) quoted() Kind {
	for i := s.pos + 1; i < len(s.text); i++ {
		switch s.text[i] {
		case '\\':
			if i+1 < len(s.text) && (s.text[i+1] == '"' || s.text[i+1] == '\\') {
				i++
			}
		case '"':
			s.pos = i + 1
			return Text
		case '\n', '\r':
			s.pos = i
			return Bad
		}
	}
	s.pos = len(s.text)
	return Bad
}

func letter(r rune) bool { return r == '_' || unicode.IsLetter(r) }

// word is the length of the word that text begins with, 0 for none.
func word(text string) int {
	n := 0
	for n < len(text) {
		if c := text[n]; c < utf8.RuneSelf {
			if c == '_' || c|0x20 >= 'a' && c|0x20 <= 'z' || n > 0 && c >= '0' && c <= '9' {
				n++
				continue
			}
			break
		}
		r, size := utf8.DecodeRuneInString(text[n:])
		if !letter(r) && (n == 0 || !unicode.IsDigit(r) && !unicode.IsMark(r)) || r == utf8.RuneError && size == 1 {
			break
		}
		n += size
	}
	return n
}

// member is the length of the member's number that text begins with, as in t.1,
// 0 for none.
func member(text string) int {
	n := 0
	for digitAt(text, n) {
		n++
	}
	if word(text[n:]) > 0 {
		return 0
	}
	return n
}

func (s *scanner) wordOrBad() Kind {
	rest := s.text[s.pos:]
	n := word(rest)
	if n == 0 {
		// One character at a time, so that the next good token is found.
		_, size := utf8.DecodeRuneInString(rest)
		s.pos += size
		if strings.HasPrefix(rest, "\uFEFF") && s.pos == size {
			return Space // a byte order mark at the very start
		}
		return Bad
	}
	if s.afterNumber && isUnit(rest[:n]) {
		s.pos += n
		return Unit
	}
	dotted := false
	for n < len(rest) && rest[n] == '.' {
		part := word(rest[n+1:])
		if part == 0 {
			part = member(rest[n+1:])
		}
		if part == 0 {
			break
		}
		dotted = true
		n += 1 + part
	}
	s.pos += n
	switch name := rest[:n]; {
	case dotted:
		return Name
	case keywords[name]:
		return Keyword
	case strings.HasPrefix(strings.TrimLeft(rest[n:], " \t"), "("):
		if _, ok := quantity.FunctionNamed(name); ok {
			return Function
		}
	}
	return Name
}

// Unquote is what a text in quotes says, or a name as it stands.
func Unquote(token string) string {
	if len(token) < 2 || token[0] != '"' {
		return token
	}
	inner := token[1 : len(token)-1]
	if !strings.Contains(inner, `\`) {
		return inner
	}
	return strings.NewReplacer(`\\`, `\`, `\"`, `"`).Replace(inner)
}

// Quote writes a name so that a statement can give it: plain if it can be, else
// in quotes.
func Quote(name string) string {
	if n := word(name); n == len(name) && n > 0 && !keywords[name] {
		return name
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
}

// Refer writes a name so that it can be referred to: like Quote, and a dotted
// one plain.
func Refer(name string) string {
	if strings.Contains(name, ".") && plainName(name) {
		return name
	}
	return Quote(name)
}

// plainName tells whether a name is a word, or words and members' numbers with dots
// between them.
func plainName(name string) bool {
	for i, part := range strings.Split(name, ".") {
		if n := word(part); part == "" || n != len(part) && (i == 0 || member(part) != len(part)) {
			return false
		}
	}
	return true
}

// ReferItem writes a name where a statement names items of any kind: plain even
// if it is a keyword, but for those of the statement's own clauses.
func ReferItem(s *Spec, name string) string {
	if plainName(name) && s.Clause(name) == nil {
		return name
	}
	return Refer(name)
}
