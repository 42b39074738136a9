package quantity

import (
	"fmt"
	"math"
)

// result keeps arithmetic honest: a value that is no number or past all
// bounds is an error where it arises and never reaches the model.
func result(q Quantity, what string) (Quantity, error) {
	if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) {
		return Quantity{}, fmt.Errorf("%s has no finite value", what)
	}
	return q, nil
}

// Add is q + r; both must have one dimension, or one be a temperature and the
// other a difference. The sum shows itself in q's unit.
func Add(q, r Quantity) (Quantity, error) {
	if q.Dim == Difference && r.Dim == Temperature {
		q, r = r, q
	}
	if q.Dim == Temperature && r.Dim == Temperature {
		return Quantity{}, fmt.Errorf("cannot add two temperatures (%s and %s); a difference is written in K", q, r)
	}
	if q.Dim != r.Dim && !(q.Dim == Temperature && r.Dim == Difference) {
		return Quantity{}, fmt.Errorf("cannot add %s (%s) and %s (%s)", q.Dim, q, r.Dim, r)
	}
	return result(Quantity{q.Value + r.Value, q.Dim, unitOf(q, r)}, "the sum")
}

// Sub is q − r; of two temperatures it is their difference.
func Sub(q, r Quantity) (Quantity, error) {
	if q.Dim == Temperature && r.Dim == Temperature {
		return result(Quantity{q.Value - r.Value, Difference, Kelvin}, "the difference")
	}
	if q.Dim != r.Dim && !(q.Dim == Temperature && r.Dim == Difference) {
		return Quantity{}, fmt.Errorf("cannot subtract %s (%s) from %s (%s)", r.Dim, r, q.Dim, q)
	}
	return result(Quantity{q.Value - r.Value, q.Dim, unitOf(q, r)}, "the difference")
}

func unitOf(q, r Quantity) *Unit {
	if q.Unit != nil {
		return q.Unit
	}
	return r.Unit
}

// Mul is q × r.
func Mul(q, r Quantity) (Quantity, error) {
	if err := scaled(q, r); err != nil {
		return Quantity{}, err
	}
	dim, ok := q.Dim.combine(r.Dim, 1)
	if !ok {
		return Quantity{}, fmt.Errorf("the product of %s and %s has no meaning", q.Dim, r.Dim)
	}
	return result(Quantity{q.Value * r.Value, dim, scaledUnit(q, r, dim)}, "the product")
}

// Div is q ÷ r.
func Div(q, r Quantity) (Quantity, error) {
	if r.Value == 0 {
		return Quantity{}, fmt.Errorf("division by zero (%s / %s)", q, r)
	}
	if err := scaled(q, r); err != nil {
		return Quantity{}, err
	}
	dim, ok := q.Dim.combine(r.Dim, -1)
	if !ok {
		return Quantity{}, fmt.Errorf("the quotient of %s and %s has no meaning", q.Dim, r.Dim)
	}
	return result(Quantity{q.Value / r.Value, dim, scaledUnit(q, r, dim)}, "the quotient")
}

// scaled refuses a temperature as a factor: its scale starts anywhere.
func scaled(of ...Quantity) error {
	for _, q := range of {
		if q.Dim == Temperature {
			return fmt.Errorf("a temperature (%s) can only be compared with others, or moved by a difference, which is written in K", q)
		}
	}
	return nil
}

// scaledUnit keeps the unit of a quantity that is only scaled by a number.
func scaledUnit(q, r Quantity, dim Dimension) *Unit {
	for _, x := range []Quantity{q, r} {
		if x.Unit != nil && x.Unit.Dim == dim && x.Unit != Percent {
			return x.Unit
		}
	}
	return nil
}

// Neg is −q; of a temperature, as far below the start of its scale.
func Neg(q Quantity) Quantity {
	if q.Dim == Temperature {
		q.Value = 2*Celsius.Offset - q.Value
		return q
	}
	q.Value = -q.Value
	return q
}

// Function is one that expressions may call.
type Function struct {
	Name     string
	Min, Max int // how many arguments; Max 0: any number from Min
	Doc      string
	apply    func(args []Quantity) (Quantity, error)
}

// Functions lists what expressions may call.
func Functions() []Function { return functions }

var functions = []Function{
	{"min", 1, 0, "the least of its arguments, which share a dimension", func(a []Quantity) (Quantity, error) {
		return extreme(a, func(x, y float64) bool { return x < y })
	}},
	{"max", 1, 0, "the greatest of its arguments, which share a dimension", func(a []Quantity) (Quantity, error) {
		return extreme(a, func(x, y float64) bool { return x > y })
	}},
	{"abs", 1, 1, "the value without its sign", func(a []Quantity) (Quantity, error) {
		if err := scaled(a[0]); err != nil {
			return Quantity{}, err
		}
		a[0].Value = math.Abs(a[0].Value)
		return a[0], nil
	}},
	{"sqrt", 1, 1, "the square root; of an area, a length", func(a []Quantity) (Quantity, error) {
		dim, ok := a[0].Dim.halve()
		if !ok {
			return Quantity{}, fmt.Errorf("sqrt of %s (%s) has no dimension of its own", a[0].Dim, a[0])
		}
		if a[0].Value < 0 {
			return Quantity{}, fmt.Errorf("sqrt of a negative value (%s)", a[0])
		}
		return Quantity{Value: math.Sqrt(a[0].Value), Dim: dim}, nil
	}},
	{"sin", 1, 1, "the sine of an angle", trigonometric(math.Sin)},
	{"cos", 1, 1, "the cosine of an angle", trigonometric(math.Cos)},
	{"tan", 1, 1, "the tangent of an angle", trigonometric(math.Tan)},
}

func extreme(args []Quantity, better func(x, y float64) bool) (Quantity, error) {
	best := args[0]
	for _, a := range args[1:] {
		if a.Dim != best.Dim {
			return Quantity{}, fmt.Errorf("cannot compare %s (%s) with %s (%s)", best.Dim, best, a.Dim, a)
		}
		if better(a.Value, best.Value) {
			best = a
		}
	}
	return best, nil
}

func trigonometric(f func(float64) float64) func([]Quantity) (Quantity, error) {
	return func(a []Quantity) (Quantity, error) {
		if a[0].Dim != Angle {
			return Quantity{}, fmt.Errorf("expected an angle such as 30 deg, found %s (%s)", a[0].Dim, a[0])
		}
		v := f(a[0].Value * math.Pi / 180)
		// The quarter turns come out whole, so that cos(90 deg) is 0.
		if r := math.Round(v); math.Abs(v-r) < 1e-15 {
			v = r
		}
		if math.Abs(v) > 1e15 {
			return Quantity{}, fmt.Errorf("tan(%s) has no finite value", a[0])
		}
		return Number(v), nil
	}
}

// Call applies a function; it reports a wrong number of arguments.
func Call(f *Function, args []Quantity) (Quantity, error) {
	if len(args) < f.Min || f.Max > 0 && len(args) > f.Max {
		want := fmt.Sprintf("%d", f.Min)
		if f.Max == 0 {
			want = fmt.Sprintf("at least %d", f.Min)
		}
		return Quantity{}, fmt.Errorf("%s takes %s value(s), found %d", f.Name, want, len(args))
	}
	q, err := f.apply(append([]Quantity(nil), args...))
	if err != nil {
		return q, err
	}
	return result(q, f.Name)
}

// FunctionNamed finds a function by its name.
func FunctionNamed(name string) (*Function, bool) {
	for i := range functions {
		if functions[i].Name == name {
			return &functions[i], true
		}
	}
	return nil, false
}
