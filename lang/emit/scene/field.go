package scene

// Field is how strong a mode's field is over the board, as lines of equal field.
type Field struct {
	Title string // whose field it is, for people
	Met   bool   // the mode lies in the board's band or beside it
	Lines []FieldLine
	// Strongest is where it is greatest.
	Strongest Point
}

// FieldLine is where the field is one share of its greatest.
type FieldLine struct {
	Share float64 // 0 to 1, either sign
	Paths []Path
}
