package quantity

// Lengths are in nanometres wherever a board is spoken of. Formulas take
// metres, sheets and reports millimetres; this is where one becomes the other.
const (
	NmPerMetre      = 1e9
	NmPerMillimetre = 1e6
	NmPerMicrometre = 1e3
)

// InMetres is a length of so many nanometres in metres.
func InMetres(nm float64) float64 { return nm / NmPerMetre }

// InMillimetres is a length of so many nanometres in millimetres.
func InMillimetres(nm float64) float64 { return nm / NmPerMillimetre }

// InMicrometres is a length of so many nanometres in micrometres.
func InMicrometres(nm float64) float64 { return nm / NmPerMicrometre }

// InSquareMetres is an area of so many square nanometres in square metres.
func InSquareMetres(nm2 float64) float64 { return nm2 / NmPerMetre / NmPerMetre }

// InSquareMillimetres is an area of so many square nanometres in square millimetres.
func InSquareMillimetres(nm2 float64) float64 { return nm2 / (NmPerMillimetre * NmPerMillimetre) }

// OfMetres is a length of so many metres in nanometres.
func OfMetres(m float64) float64 { return m * NmPerMetre }
