package board

import "hemline/lang/source"

// Request is something that the board statement asks for and a check answers.
type Request struct {
	Clause string       // its keyword
	At     source.Place // of its value
	Says   string       // as a sentence names it: "shielding 30 dB"
}

// Item is the name that a finding on the request is accepted by.
func (r Request) Item() string { return "board." + r.Clause }

// Requests lists what the board asks for, in the order of the vocabulary.
// `frequency` and `thickness` are conditions of the answers, and so is a `rise`
// beside the `current` that it is for, and a `hazard` beside a `voltage`.
func (b *Board) Requests() []Request {
	i := b.Info()
	if i == nil {
		return nil
	}
	var list []Request
	ask := func(clause string, at source.Place, says string) {
		list = append(list, Request{clause, at, clause + " " + says})
	}
	if i.Shielding.Given() {
		ask("shielding", i.Shielding.At, i.Shielding.String())
	}
	if i.Class.Given() {
		ask("class", i.Class.At, i.Class.String())
	}
	switch {
	case i.Current.Given() && i.Rise.Given():
		ask("current", i.Current.At, i.Current.String()+" for a rise of "+i.Rise.String())
	case i.Current.Given():
		ask("current", i.Current.At, i.Current.String())
	case i.Rise.Given():
		ask("rise", i.Rise.At, i.Rise.String())
	}
	switch {
	case i.Voltage.Given():
		ask("voltage", i.Voltage.At, i.Voltage.String())
	case i.Hazard.Given() && i.Hazard.Text != "none":
		ask("hazard", i.Hazard.At, i.Hazard.Text)
	}
	if i.Impedance.Given() && !i.Impedance.Is("none") && i.Impedance.Answers() {
		ask("impedance", i.Impedance.At, i.Impedance.Text)
	}
	return list
}
