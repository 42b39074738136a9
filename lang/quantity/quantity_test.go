package quantity

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func read(t *testing.T, number, unit string) Quantity {
	t.Helper()
	u, ok := UnitNamed(unit)
	require.True(t, ok, unit)
	q, err := Parse(number, u)
	require.NoError(t, err)
	return q
}

// The inch is 25.4 mm exactly (international yard and pound agreement, 1959; ISO 80000-3).
func TestLengthsCompareExactly(t *testing.T) {
	for _, pair := range [][4]string{
		{"15", "mil", "0.381", "mm"}, {"10", "mil", "0.254", "mm"}, {"1", "in", "2.54", "cm"},
		{"0.0001", "in", "2540", "nm"}, {"1", "oz", "35", "um"}, {"0.3", "mm", "300", "µm"}, {"62", "mm", "0.062", "m"},
		{"1.27", "mm", "50", "mil"}, {"3.937", "mil", "99999.8", "nm"},
	} {
		assert.True(t, read(t, pair[0], pair[1]).Same(read(t, pair[2], pair[3])), "%v", pair)
	}
}

// Against exact rational arithmetic of the standard library.
func TestParseRoundsOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := units[rapid.IntRange(0, len(units)-1).Draw(t, "unit")]
		if u.Offset != 0 {
			return
		}
		number := rapid.StringMatching(`[0-9]{1,5}(\.[0-9]{1,6})?`).Draw(t, "number")
		q, err := Parse(number, &u)
		require.NoError(t, err)
		exact, _ := new(big.Rat).SetString(number)
		exact.Mul(exact, new(big.Rat).SetFloat64(u.Mantissa))
		ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(u.Exponent, -u.Exponent))), nil))
		if u.Exponent >= 0 {
			exact.Mul(exact, ten)
		} else {
			exact.Quo(exact, ten)
		}
		want, whole := exact.Float64()
		if whole {
			assert.Equal(t, want, q.Value, "a value that a float64 can hold is held")
		} else {
			assert.InEpsilon(t, want, q.Value, 3e-16)
		}
	})
}

func TestHowQuantitiesShow(t *testing.T) {
	for _, c := range []struct{ number, unit, want string }{
		{"0.3", "mm", "0.30 mm"}, {"0.4", "mm", "0.40 mm"}, {"15", "mil", "15 mil"}, {"0.381", "mm", "0.381 mm"},
		{"35", "um", "35 um"}, {"2.45", "GHz", "2.45 GHz"}, {"92", "%", "92 %"}, {"1000", "Nmm", "1000 Nmm"},
		{"25", "degC", "25 degC"}, {"0", "mm", "0.00 mm"},
	} {
		assert.Equal(t, c.want, read(t, c.number, c.unit).String())
	}
	a, b := Pair(read(t, "0.380999", "mm"), read(t, "15", "mil"))
	assert.Equal(t, "0.380999 mm", a, "what differs by a nanometre must look different")
	assert.Equal(t, "0.381 mm", b)
}

// What is left is never told as more than it is, nor what is missing as less.
func TestHowMarginsShow(t *testing.T) {
	for _, c := range []struct{ number, unit, brief, down, up string }{
		{"3.6143", "mm", "3.614 mm", "3.61 mm", "3.62 mm"}, {"1.0857", "mm", "1.086 mm", "1.08 mm", "1.09 mm"},
		{"0.075", "mm", "0.075 mm", "0.075 mm", "0.075 mm"}, {"165.4235", "mm", "165.42 mm", "165.42 mm", "165.43 mm"},
		{"0.29", "mm", "0.29 mm", "0.29 mm", "0.29 mm"}, {"0.04567", "mm", "0.0457 mm", "0.045 mm", "0.046 mm"},
		{"0", "mm", "0.00 mm", "0.00 mm", "0.00 mm"}, {"12.3456", "um", "12.35 um", "12.34 um", "12.35 um"},
		{"123456", "um", "123456 um", "123456 um", "123456 um"}, {"0.000001", "mm", "0.00 mm", "0.000001 mm", "0.000001 mm"},
	} {
		q := read(t, c.number, c.unit)
		assert.Equal(t, c.brief, q.Brief())
		assert.Equal(t, c.down, q.Rough(false), c.number)
		assert.Equal(t, c.up, q.Rough(true), c.number)
	}
	assert.Equal(t, "1", Number(1).Rough(false), "a count is whole")
}

func TestDimensionsAreChecked(t *testing.T) {
	_, err := Add(read(t, "3", "mm"), read(t, "2", "GHz"))
	assert.EqualError(t, err, "cannot add a length (3.00 mm) and a frequency (2 GHz)")
	area, err := Mul(read(t, "3", "mm"), read(t, "4", "mm"))
	require.NoError(t, err)
	root, _ := FunctionNamed("sqrt")
	side, err := Call(root, []Quantity{area})
	require.NoError(t, err)
	assert.Equal(t, Length, side.Dim)
	_, err = Div(Number(0), Number(0))
	assert.ErrorContains(t, err, "division by zero")
	huge := Number(1e300)
	_, err = Mul(huge, huge)
	assert.ErrorContains(t, err, "no finite value")
	_, err = Parse("1e400", nil)
	assert.ErrorContains(t, err, "too large")
	for _, number := range []string{"1e9223372036854775807", "1e99999"} {
		_, err = Parse(number, Millimetre)
		assert.ErrorContains(t, err, "too large")
	}
	sine, _ := FunctionNamed("sin")
	_, err = Call(sine, []Quantity{Number(1)})
	assert.ErrorContains(t, err, "expected an angle")
	half, err := Call(sine, []Quantity{read(t, "30", "deg")})
	require.NoError(t, err)
	assert.InDelta(t, 0.5, half.Value, 1e-15)
}

func TestUnitsAreNamedOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, u := range Units() {
		assert.False(t, seen[u.Name], u.Name)
		seen[u.Name] = true
		assert.NotEmpty(t, u.Doc)
	}
}

// A length is rounded up to what an author of the unit would write, and left alone where it is that.
func TestReadily(t *testing.T) {
	for _, c := range []struct {
		nm   float64
		unit string
		most int
		want string
	}{
		{400_000, "mm", 2, "0.4 mm"},
		{381_000, "mm", 4, "0.381 mm"},
		{381_000, "mm", 2, "0.39 mm"},
		{400_000, "mil", 4, "16 mil"}, // 15.748
		{400_000, "in", 4, "0.016 in"},
		{25_001, "um", 2, "26 um"},
		{25_000, "um", 2, "25 um"},
	} {
		u, _ := UnitNamed(c.unit)
		text, ok := Nanometres(c.nm).Readily(u, c.most).Exact(u, 4)
		assert.True(t, ok)
		assert.Equal(t, c.want, text)
	}
	assert.Equal(t, Nanometres(5).Value, Nanometres(5).Readily(Gigahertz, 2).Value, "no length in that unit")
}
