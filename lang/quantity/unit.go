package quantity

// Unit is one spelling of a unit of measure.
type Unit struct {
	Name string
	Dim  Dimension
	// Factor takes a number of this unit to base units (see Quantity) as
	// Mantissa × 10^Exponent. Both are whole, so that a decimal fraction such
	// as 0.381 mm or 15 mil is read without a rounding error of its own.
	Mantissa float64
	Exponent int
	Offset   float64 // added after scaling; only degC has one
	Doc      string
}

// Alike tells whether two units are one, however it is written: um and µm.
func (u *Unit) Alike(v *Unit) bool {
	return u.Dim == v.Dim && u.Mantissa == v.Mantissa && u.Exponent == v.Exponent && u.Offset == v.Offset
}

// The base unit of length is the nanometre: every length of the trade, in
// millimetres or mils, is a whole number of them.
var units = []Unit{
	{Name: "nm", Dim: Length, Mantissa: 1, Doc: "nanometre"},
	{Name: "um", Dim: Length, Mantissa: 1, Exponent: 3, Doc: "micrometre"},
	{Name: "µm", Dim: Length, Mantissa: 1, Exponent: 3, Doc: "micrometre, U+00B5"},
	{Name: "μm", Dim: Length, Mantissa: 1, Exponent: 3, Doc: "micrometre, U+03BC"},
	{Name: "mm", Dim: Length, Mantissa: 1, Exponent: 6, Doc: "millimetre"},
	{Name: "cm", Dim: Length, Mantissa: 1, Exponent: 7, Doc: "centimetre"},
	{Name: "m", Dim: Length, Mantissa: 1, Exponent: 9, Doc: "metre"},
	{Name: "mil", Dim: Length, Mantissa: 254, Exponent: 2, Doc: "thousandth of an inch, 25.4 µm exactly"},
	{Name: "in", Dim: Length, Mantissa: 254, Exponent: 5, Doc: "inch, 25.4 mm exactly"},
	// One avoirdupois ounce, 28.349523125 g, spread over a square foot,
	// 929.0304 cm², at 8.96 g/cm³ is 34.06 µm of pure copper; IPC-4562 calls
	// the foil of that weight 34.3 µm (nominal) and the trade reckons 35 µm.
	{Name: "oz", Dim: Length, Mantissa: 35, Exponent: 3, Doc: "copper weight per square foot, taken as 35 µm a unit as the trade does"},
	{Name: "deg", Dim: Angle, Mantissa: 1, Doc: "degree of arc"},
	{Name: "Hz", Dim: Frequency, Mantissa: 1, Doc: "hertz"},
	{Name: "kHz", Dim: Frequency, Mantissa: 1, Exponent: 3, Doc: "kilohertz"},
	{Name: "MHz", Dim: Frequency, Mantissa: 1, Exponent: 6, Doc: "megahertz"},
	{Name: "GHz", Dim: Frequency, Mantissa: 1, Exponent: 9, Doc: "gigahertz"},
	{Name: "dB", Dim: Level, Mantissa: 1, Doc: "decibel, of field strength"},
	{Name: "%", Dim: None, Mantissa: 1, Exponent: -2, Doc: "per cent, a plain number times 0.01"},
	{Name: "mA", Dim: Current, Mantissa: 1, Exponent: -3, Doc: "milliampere"},
	{Name: "A", Dim: Current, Mantissa: 1, Doc: "ampere"},
	{Name: "V", Dim: Voltage, Mantissa: 1, Exponent: 18, Doc: "volt"},
	{Name: "kV", Dim: Voltage, Mantissa: 1, Exponent: 21, Doc: "kilovolt"},
	{Name: "K", Dim: Difference, Mantissa: 1, Doc: "kelvin, a difference of temperature and not a temperature"},
	{Name: "degC", Dim: Temperature, Mantissa: 1, Offset: 273.15, Doc: "degree Celsius, a temperature and not a difference"},
	{Name: "uohm", Dim: Resistance, Mantissa: 1, Exponent: 12, Doc: "microohm"},
	{Name: "mohm", Dim: Resistance, Mantissa: 1, Exponent: 15, Doc: "milliohm"},
	{Name: "ohm", Dim: Resistance, Mantissa: 1, Exponent: 18, Doc: "ohm"},
	{Name: "N", Dim: Force, Mantissa: 1, Exponent: 9, Doc: "newton"},
	{Name: "g", Dim: Mass, Mantissa: 1, Exponent: -3, Doc: "gram"},
	{Name: "W", Dim: Power, Mantissa: 1, Exponent: 18, Doc: "watt"},
	{Name: "Nmm", Dim: Moment, Mantissa: 1, Exponent: 15, Doc: "newton millimetre, a moment"},
	{Name: "Nm", Dim: Moment, Mantissa: 1, Exponent: 18, Doc: "newton metre, a moment"},
}

var byName = func() map[string]*Unit {
	m := make(map[string]*Unit, len(units))
	for i := range units {
		m[units[i].Name] = &units[i]
	}
	return m
}()

// Units lists the unit table in the order of the reference (lang/REFERENCE.md).
func Units() []Unit { return append([]Unit(nil), units...) }

// UnitNamed finds a unit by its spelling, case and all.
func UnitNamed(name string) (*Unit, bool) {
	u, ok := byName[name]
	return u, ok
}

// Named units that the program's own figures are stated in.
var (
	Millimetre, Micrometre, Nanometre, Mil = byName["mm"], byName["µm"], byName["nm"], byName["mil"]
	Percent, Gigahertz, Decibel            = byName["%"], byName["GHz"], byName["dB"]
	NewtonMillimetre, Newton, Gram         = byName["Nmm"], byName["N"], byName["g"]
	Ampere, Kelvin, Milliohm, Degree       = byName["A"], byName["K"], byName["mohm"], byName["deg"]
	Celsius, Volt                          = byName["degC"], byName["V"]
)
