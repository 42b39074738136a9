package syntax

import "hemline/lang/quantity"

// Kind is the kind of a token.
type Kind uint8

// The kinds of tokens. Space, Newline and Comment only separate; Bad is a
// byte or a run of bytes that begins no token.
const (
	End Kind = iota
	Space
	Newline
	Comment
	Keyword
	Name
	Function
	Number
	Unit
	Text
	OpenBrace
	CloseBrace
	OpenParen
	CloseParen
	Comma
	Equals
	Plus
	Minus
	Star
	Slash
	Semicolon
	Bad
)

var kindNames = [...]string{
	"the end of the statement", "a space", "the end of the line", "a comment", "a keyword", "a name", "a function",
	"a number", "a unit", "a text in quotes", "{", "}", "(", ")", ",", "=", "+", "-", "*", "/", ";", "a character that begins nothing",
}

// String names the kind in the words of a message.
func (k Kind) String() string { return kindNames[k] }

// Token is a piece of text. Start and End are byte offsets, End exclusive;
// what they count from is its holder's to say.
type Token struct {
	Kind       Kind
	Start, End int32
}

// isUnit tells whether a word or sign is a unit; it counts as one only right after a number.
func isUnit(word string) bool {
	_, ok := quantity.UnitNamed(word)
	return ok
}
