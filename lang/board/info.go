package board

import "hemline/lang/syntax"

// Info is the board statement. Absent values are not Given.
type Info struct {
	Item
	Title, Revision Name
	Frequency       Value // the highest; hertz
	FrequencyLow    Value // the band's lower end; hertz
	Shielding       Value // dB
	Class           Value // 1, 2 or 3
	Thickness       Value // nm
	Current         Value // A
	Rise            Value // K
	Voltage         Value // V, the highest between the wall and other copper
	Hazard          Name  // one of syntax.Hazards

	// For the title block of drawings.
	Number, Owner, Author, Approver, Date, Status Name

	Material     Name
	Finish       Name // holds for platings that state none
	Mask, Legend Name // colours
	Impedance    Choice
}

func (m *meaning) info(r *syntax.Reading, base Item) *Info {
	i := &Info{Item: base, Title: nameOf(r.Get("title"), 0), Revision: nameOf(r.Get("revision"), 0)}
	if f := r.Get("frequency"); f != nil {
		i.Frequency = m.quantity(f, 0, positive)
		if to := f.Get("to"); to != nil {
			i.FrequencyLow, i.Frequency = i.Frequency, m.quantity(to, 0, positive)
			if i.Frequency.Given() && i.FrequencyLow.Given() && i.FrequencyLow.Value > i.Frequency.Value {
				m.report(RuleWrongValue, f.Place(), "the band ends at %s, below its start at %s", i.Frequency, i.FrequencyLow)
			}
		}
	}
	i.Shielding = m.quantity(r.Get("shielding"), 0, positive)
	i.Class = m.quantity(r.Get("class"), 0, positive)
	if c := i.Class; c.Given() && c.Value != 1 && c.Value != 2 && c.Value != 3 {
		m.report(RuleWrongValue, c.At, "class must be 1, 2 or 3, found %s", c.Quantity)
		i.Class = Value{}
	}
	i.Thickness = m.quantity(r.Get("thickness"), 0, positive)
	i.Current = m.quantity(r.Get("current"), 0, positive)
	i.Rise = m.quantity(r.Get("rise"), 0, positive)
	i.Voltage = m.quantity(r.Get("voltage"), 0, positive)
	i.Hazard = nameOf(r.Get("hazard"), 0)
	for word, into := range map[string]*Name{
		"number": &i.Number, "owner": &i.Owner, "author": &i.Author, "approver": &i.Approver, "status": &i.Status,
		"material": &i.Material, "finish": &i.Finish, "mask": &i.Mask, "legend": &i.Legend,
	} {
		*into = nameOf(r.Get(word), 0)
	}
	i.Date = m.date(r.Get("date"))
	i.Impedance = choiceOf(r.Get("impedance"))
	return i
}

// FinishOf is the finish of a plating: its own, or else the board's.
func (b *Board) FinishOf(p *Plating) Name {
	if !p.Finish.Given() && b.Info() != nil {
		return b.Info().Finish
	}
	return p.Finish
}

// HazardText says in words what the wall may carry; "" where the board does not say.
func (i *Info) HazardText() string {
	switch i.Hazard.Text {
	case "none":
		return "the wall carries no hazardous voltage"
	case "protective_earth":
		return "the wall is the product's protective earth"
	case "live":
		return "the wall is live, not safe to touch"
	}
	return ""
}

// ClassCopper is what a board's class asks of plated copper, nm: on average,
// and at its thinnest spot; ok is false where the board states no class.
//
// IPC-6012, from memory and as a fabricator cites it: 20 and 18 µm in classes 1
// and 2, 25 and 20 µm in class 3.
func (b *Board) ClassCopper() (average, thinnest float64, ok bool) {
	if b.Info() == nil || !b.Info().Class.Given() {
		return 0, 0, false
	}
	if b.Info().Class.Value == 3 {
		return 25e3, 20e3, true
	}
	return 20e3, 18e3, true
}
