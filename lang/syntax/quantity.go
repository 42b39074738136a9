package syntax

import "hemline/lang/quantity"

// Quantity reads a number and its unit as the language writes them, such as
// "15 mil" or "5 %"; ok is false for anything else.
func Quantity(text string) (q quantity.Quantity, ok bool) {
	tokens := Lex(text)
	if len(tokens) == 0 {
		return q, false
	}
	var unit *quantity.Unit
	number, rest := text[:tokens[0].End], text[tokens[0].End:]
	if rest != "" {
		name := rest
		if name[0] == ' ' {
			name = name[1:]
		}
		if unit, ok = quantity.UnitNamed(name); !ok {
			return q, false
		}
	}
	q, err := quantity.Parse(number, unit)
	return q, err == nil
}
