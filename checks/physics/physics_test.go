package physics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// near requires a value and its validity, within half a per cent unless the
// source rounds more coarsely.
func near(t *testing.T, want, got float64, ok bool, source string) {
	t.Helper()
	assert.True(t, ok, source)
	assert.InEpsilon(t, want, got, 0.005, source)
}

func TestWavelength(t *testing.T) {
	// Published: a concentrator maker's page gives 7.5 mm, a twentieth, at 1 GHz in er 4.
	l, ok := Wavelength(1e9, 4)
	near(t, 7.5e-3, l/20, ok, "published, a via-fence FAQ")
	// Published: a project log's via fence at 2.45 GHz in er 3.66 gives an eighth as 7.9 mm and a
	// twentieth as 3 (rounded); here 7.995 and 3.198.
	l, ok = Wavelength(2.45e9, 3.66)
	assert.True(t, ok)
	assert.InDelta(t, 7.9e-3, l/8, 0.1e-3, "published, rounded down")
	// Computed from c (CODATA).
	for _, c := range []struct{ f, er, mm float64 }{{1, 1, 299.79}, {2.45, 4.3, 59.01}, {5.8, 4.3, 24.93}, {10, 3.66, 15.67}, {77, 3, 2.248}} {
		l, ok := Wavelength(c.f*1e9, c.er)
		near(t, c.mm*1e-3, l, ok, "table computed from CODATA c")
	}
}

func TestSlotShielding(t *testing.T) {
	for _, c := range []struct {
		mm      []float64
		ghz, er float64
		dB      float64
	}{
		{[]float64{15}, 1, 1, 19.99}, {[]float64{10}, 1, 1, 23.52}, {[]float64{5}, 5.8, 1, 14.27},
		{[]float64{5}, 5.8, 4.3, 7.93}, {[]float64{3}, 2.45, 4.3, 19.86}, {[]float64{3}, 2.45, 2.65, 21.96},
		// Several, their amplitudes added.
		{[]float64{3, 3, 3}, 2.45, 4.3, 10.31}, {[]float64{5, 3, 2}, 2.45, 4.3, 9.40}, {[]float64{3, 2}, 5.8, 4.3, 7.93},
		{[]float64{10, 10, 10, 10}, 1, 1, 11.47}, {[]float64{4, 4}, 2.45, 4.3, 11.34},
	} {
		lambda, _ := Wavelength(c.ghz*1e9, c.er)
		sum, amplitudes := 0.0, 0.0
		for _, l := range c.mm {
			alone, ok := SlotShielding(l*1e-3, lambda)
			assert.True(t, ok)
			sum += l
			amplitudes += math.Pow(10, -alone/20)
		}
		s, ok := SlotShielding(sum*1e-3, lambda)
		assert.True(t, ok)
		assert.InDelta(t, c.dB, s, 0.01, "tables computed with the formula of Vitek 1989 and Ott 2009, ch. 6")
		assert.InDelta(t, -20*math.Log10(amplitudes), s, 1e-9)
	}
	lambda, _ := Wavelength(10e9, 1)
	s, ok := SlotShielding(20e-3, lambda)
	assert.True(t, ok)
	assert.Zero(t, s, "never negative")
}

// An open end by Hammerstad's formula, worked out by hand, and what it does to the first
// mode of open planes that end together (each half the distance over the plane of
// symmetry), GHz; 100 by 80 mm over a wider plane too.
func TestOpenEnd(t *testing.T) {
	for _, c := range []struct{ long, wide, h, er, mm, without, with float64 }{
		{100, 80, 0.8, 4.3, 0.374, 0.7229, 0.7175}, {100, 80, 1.6, 4.3, 0.746, 0.7229, 0.7122},
		{100, 80, 0.1, 4.3, 0, 0.7229, 0.7222}, {30, 20, 0.5, 3.66, 0, 2.6117, 2.5709},
	} {
		d, ok := OpenEnd(c.h*1e-3, c.wide*1e-3, c.er)
		assert.True(t, ok)
		if c.mm > 0 {
			assert.InDelta(t, c.mm, d*1e3, 0.0006)
		}
		f := func(d float64) float64 { return C / (2 * (c.long*1e-3 + 2*d) * math.Sqrt(c.er)) / 1e9 }
		assert.InDelta(t, c.without, f(0), 1e-4)
		assert.InDelta(t, c.with, f(d), 1e-4, "%v", c)
	}
	_, ok := OpenEnd(1e-3, 20e-3, 0.9)
	assert.False(t, ok)
}

// Ott's table of openings for 20 dB, inches, rounded; from memory, so a tenth either way.
func TestOttsTable(t *testing.T) {
	for f, inches := range map[float64]float64{30e6: 18, 50e6: 12, 100e6: 6, 300e6: 2, 500e6: 1.2, 1e9: 0.6} {
		lambda, _ := Wavelength(f, 1)
		l, ok := LongestOpening(lambda, 20)
		assert.True(t, ok)
		assert.InEpsilon(t, inches*25.4e-3, l, 0.1, "Ott 2009, ch. 6, from memory")
	}
	for _, c := range []struct{ f, dB, mm float64 }{{1e9, 30, 4.740}, {1e9, 40, 1.499}, {2.45e9, 40, 0.6118}, {6e9, 30, 0.790}} {
		lambda, _ := Wavelength(c.f, 1)
		l, ok := LongestOpening(lambda, c.dB)
		near(t, c.mm*1e-3, l, ok, "computed")
	}
}

func TestDeepOpening(t *testing.T) {
	for _, c := range []struct{ w, d, ghz, er, dB float64 }{{5, 1.6, 1, 1, 8.727}, {3, 2, 10, 1, 17.82}, {5, 2, 5.8, 4.3, 9.998}} {
		a, ok := DeepOpening(c.w*1e-3, c.d*1e-3, c.ghz*1e9, c.er)
		near(t, c.dB, a, ok, "computed, waveguide below cut-off")
	}
	// Ott: 27.2 dB times d/w far below cut-off.
	a, ok := DeepOpening(5e-3, 1.6e-3, 1e6, 1)
	near(t, 27.2*1.6/5, a, ok, "Ott 2009, from memory")
	_, ok = DeepOpening(3e-3, 2e-3, 50e9, 1)
	assert.False(t, ok, "cut-off is 49.97 GHz")
}

func TestSkinDepthAndAbsorption(t *testing.T) {
	for _, c := range []struct{ f, um, dB float64 }{
		{1e6, 66.08, 3.29}, {10e6, 20.90, 10.39}, {100e6, 6.608, 32.86}, {1e9, 2.090, 103.9},
		{2.45e9, 1.335, 162.6}, {10e9, 0.6608, 328.6}, {30e9, 0.3815, 569},
	} {
		d, ok := SkinDepth(c.f, Rho20)
		near(t, c.um*1e-6, d, ok, "computed with IACS copper")
		a, ok := Absorption(25e-6, d)
		near(t, c.dB, a, ok, "computed")
		// Johnson 1963, p. 58, as cited: 6.64/√f cm, half a per cent above IACS.
		assert.InEpsilon(t, 6.64e-2/math.Sqrt(c.f), d, 0.006)
		// MIL-HDBK-419A: A = 3.338e-3·t(mil)·√(f·µr·Gr).
		assert.InEpsilon(t, 3.338e-3*(25e-6/25.4e-6)*math.Sqrt(c.f), a, 0.005)
	}
	// Published example of MIL-HDBK-419A's formula: 30 dB at 10 kHz; five times
	// the thickness 150 dB; half the thickness at 20 kHz 21.2 dB.
	d10, _ := SkinDepth(10e3, Rho20)
	thickness := 30.0 / 8.685889638 * d10
	five, _ := Absorption(5*thickness, d10)
	near(t, 150, five, true, "published example")
	d20, _ := SkinDepth(20e3, Rho20)
	half, _ := Absorption(thickness/2, d20)
	near(t, 21.2, half, true, "published example")
}

func TestResistance(t *testing.T) {
	for um, want := range map[float64]float64{18: 0.958, 20: 0.862, 25: 0.690, 35: 0.493} {
		r, ok := SheetResistance(Rho20, um*1e-6)
		near(t, want*1e-3, r, ok, "computed with IACS copper")
	}
	for celsius, want := range map[float64]float64{-40: 1.3176, 25: 1.7580, 70: 2.0629, 85: 2.1645, 125: 2.4356} {
		rho, ok := Resistivity(celsius)
		near(t, want*1e-8, rho, ok, "IEC 60028 linear law")
	}
	_, ok := Resistivity(500)
	assert.False(t, ok)
	sheet, _ := SheetResistance(Rho20, 25e-6)
	r, ok := StripResistance(sheet, 100e-3, 1.6e-3)
	near(t, 43.10e-3, r, ok, "along the wall, computed")
	r, ok = StripResistance(sheet, 1.6e-3, 10e-3)
	near(t, 0.1103e-3, r, ok, "top to bottom, computed")
}

func TestCurrent(t *testing.T) {
	mils := func(w, h float64) float64 { return w * h * mil2 }
	// Published on a component maker's page: 10 mil of 1 oz (1.378 mil), 10 K, outside: 0.884 A.
	i, ok := CurrentFor(mils(10, 1.378), 10, true)
	near(t, 0.884, i, ok, "published example")
	for _, c := range []struct {
		section, rise float64
		outer         bool
		amps          float64
	}{
		{mils(50, 1.378), 20, true, 3.858}, {mils(100, 1.378), 10, false, 2.350}, {1.6e-3 * 25e-6, 10, true, 2.635},
		{1.6e-3 * 25e-6, 20, true, 3.574}, {0.8e-3 * 20e-6, 10, true, 1.356}, {3.2e-3 * 25e-6, 30, true, 7.062},
	} {
		i, ok := CurrentFor(c.section, c.rise, c.outer)
		near(t, c.amps, i, ok, "computed with IPC-2221's fit")
	}
	_, ok = CurrentFor(1e-8, 5, true)
	assert.False(t, ok, "rises under 10 K")
	_, ok = CurrentFor(1e-5, 100, true)
	assert.False(t, ok, "more than 35 A")
}

func TestMassesAndStatics(t *testing.T) {
	m, ok := CopperMass(576e-6, 25e-6)
	near(t, 0.1290e-3, m, ok, "computed")
	m, ok = BoardMass(100e-3*80e-3, 1.6e-3)
	near(t, 23.68e-3, m, ok, "computed")
	for _, c := range []struct{ b, t, strength, nmm float64 }{
		{5, 1.6, 345, 736}, {2.5, 1.6, 345, 368}, {1.476, 1.6, 345, 217.3}, {1.476, 0.8, 345, 54.3}, {1.5, 1, 345, 86.3}, {1, 1.6, 415, 177.1},
	} {
		m, ok := BreakMoment(c.b*1e-3, c.t*1e-3, c.strength*1e6)
		near(t, c.nmm*1e-3, m, ok, "computed with IPC-4101/21's strengths, from memory")
	}
	m, ok = CopperMass(934.0e-6, 25e-6)
	near(t, 0.2092e-3, m, ok, "computed: wall and wraps of 100 × 80 × 1.6 mm")
	m, ok = CopperMass(2*100e-3*80e-3, 35e-6)
	near(t, 5.018e-3, m, ok, "computed: two full planes")
}

// Nothing that does not apply gives a number, and no number is NaN or infinite.
func TestOutsideOfValidity(t *testing.T) {
	odd := []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, 1e300}
	check := func(v float64, ok bool) {
		t.Helper()
		if ok {
			assert.False(t, math.IsNaN(v) || math.IsInf(v, 0))
		}
	}
	for _, a := range odd[:5] {
		for _, f := range []func() (float64, bool){
			func() (float64, bool) { return Wavelength(a, 4) }, func() (float64, bool) { return Wavelength(1e9, a) },
			func() (float64, bool) { return OpenEnd(a, 1, 4) }, func() (float64, bool) { return OpenEnd(1, a, 4) }, func() (float64, bool) { return OpenEnd(1, 1, a) },
			func() (float64, bool) { return SlotShielding(a, 1) }, func() (float64, bool) { return LongestOpening(a, 20) },
			func() (float64, bool) { return DeepOpening(a, 1, 1, 1) }, func() (float64, bool) { return SkinDepth(a, Rho20) },
			func() (float64, bool) { return Absorption(a, 1) }, func() (float64, bool) { return SheetResistance(a, 1) },
			func() (float64, bool) { return StripResistance(1, a, 1) }, func() (float64, bool) { return CurrentFor(a, 20, true) },
			func() (float64, bool) { return CopperMass(a, 1) }, func() (float64, bool) { return BreakMoment(a, 1, 1) },
			func() (float64, bool) { return BoardMass(a, 1) },
		} {
			_, ok := f()
			assert.False(t, ok, "%v", a)
		}
	}
	check(SlotShielding(1e-3, 0.3))
	_, ok := Wavelength(1e9, 0.5)
	assert.False(t, ok, "permittivity under 1")
}
