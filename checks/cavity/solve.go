package cavity

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"hemline/checks/sheet"
	"hemline/lang/geom"
)

const lightSpeed = 299792458.0 // m/s

// Solve works out a cavity's modes. It gives ctx's error where that ends first,
// and an error for a shape that bounds nothing.
func Solve(ctx context.Context, s Shape, w Want) ([]Mode, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if w.Modes < 1 {
		return nil, ctx.Err()
	}
	last, values, err := refine(ctx, s, w)
	if err != nil {
		return nil, err
	}
	var all []Mode
	on := last.onSheet()
	for i := range min(w.Modes, len(last.values)) {
		f, off := s.frequency(values, i)
		if w.Below > 0 && f >= w.Below {
			continue
		}
		off = 1.5*off + 5e-4*f // so that 19 of 20 are held (TestTheRangeHolds)
		all = append(all, Mode{F: f, Least: max(f-off, 0), Most: f + off, Field: last.field(i, on)})
	}
	// What was taken off may put near ones the other way round.
	slices.SortStableFunc(all, func(a, b Mode) int { return cmp.Compare(a.F, b.F) })
	return all, nil
}

func (s Shape) check() error {
	if !(s.Permittivity > 0) || math.IsInf(s.Permittivity, 0) {
		return errors.New("the permittivity is not a number above 0")
	}
	for _, f := range s.Fences {
		if !(f.Pitch > 0 && f.Hole > 0) || math.IsInf(f.Pitch, 0) || math.IsInf(f.Hole, 0) {
			return errors.New("a fence's pitch or hole is not a number above 0")
		}
		for _, p := range f.Path {
			if math.IsNaN(p.X-p.X) || math.IsNaN(p.Y-p.Y) {
				return errors.New("a fence's corner is not a number")
			}
		}
	}
	return nil
}

// level is a shape solved on one grid.
type level struct {
	*system
	modes
}

// Grids get finer by a half from one level to the next: 400, 900, 2,025, 4,556 and
// 10,251 cells. Fewer than three tell too little of how far off the last is.
const (
	coarsest    = 400.0
	finer       = 1.5
	leastLevels = 3
	mostLevels  = 5
)

// refine solves a shape on finer and finer grids, until the first mode is as
// accurate as is wanted, and gives the last of them and the eigenvalues of each.
func refine(ctx context.Context, s Shape, w Want) (last *level, values [][]float64, err error) {
	area := s.area()
	if !(area > 0) {
		return nil, nil, sheet.ErrEmpty
	}
	cells := coarsest
	for len(values) < mostLevels {
		step := s.long() / math.Ceil(s.long()/math.Sqrt(area/cells))
		cells *= finer * finer
		next := &level{}
		if next.system, err = newSystem(ctx, s, step); err != nil {
			return nil, nil, err
		}
		width := min(w.Modes+2, next.Nodes)
		if next.modes, err = next.iterate(ctx, next.from(last, (width+3)/4), w.Modes, 1e-5); err != nil {
			return nil, nil, err
		}
		last, values = next, append(values, next.values)
		if len(values) >= leastLevels {
			if f, off := s.frequency(values, 0); off <= w.Accuracy*f {
				break
			}
		}
	}
	return last, values, nil
}

// frequency is a mode's by its eigenvalues on all levels, and how far off it may
// be. The error goes like the square of the step where the field is smooth or the
// corners' functions make it so; that much is taken off. The rest is taken to be no
// more than the last change, or what is to be expected of it by the change before.
func (s Shape) frequency(values [][]float64, i int) (f, off float64) {
	var all []float64
	for _, v := range values {
		if i < len(v) {
			all = append(all, lightSpeed/(2*math.Pi*math.Sqrt(s.Permittivity))*math.Sqrt(max(v[i], 0)))
		}
	}
	n := len(all)
	if n < leastLevels {
		return all[n-1], math.Inf(1)
	}
	const gain = finer * finer
	change := all[n-2] - all[n-1]
	return all[n-1] - change/(gain-1), max(math.Abs(change), math.Abs(all[n-3]-all[n-2])/gain)
}

func (s Shape) region() sheet.Region {
	region := make(sheet.Region, len(s.Rings))
	for i, ring := range s.Rings {
		for _, side := range ring {
			region[i] = append(region[i], side.At)
		}
	}
	return region
}

// area is what the rings enclose, those of holes taken off; where they overlap, more or
// less than the shape has.
func (s Shape) area() float64 {
	sum := 0.0
	for _, ring := range s.region() {
		for i, p := range ring {
			sum += p.Sub(ring[0]).Cross(ring[(i+1)%len(ring)].Sub(ring[0])) / 2
		}
	}
	return sum
}

// long is the longer side of the shape's box.
func (s Shape) long() float64 {
	box := geom.EmptyBox()
	for _, ring := range s.Rings {
		for _, side := range ring {
			box = box.Union(geom.BoxOf(side.At))
		}
	}
	return max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
}

// from is what the iteration begins with: the fields of the level before, or any.
func (l *level) from(before *level, width int) fields {
	x := make(fields, width)
	for k := range x {
		x[k] = make(four, l.size())
	}
	if before == nil {
		seed := uint64(1)
		for k := range x {
			for n := range x[k] {
				for j := range x[k][n] {
					seed = seed*6364136223846793005 + 1442695040888963407 // Knuth's generator, the same each time
					x[k][n][j] = float64(seed>>11)/(1<<53) - 0.5
				}
			}
		}
		return x
	}
	for n, w := range l.From(before.Sheet) {
		for k := range min(width, len(before.fields)) {
			for i, node := range w.Nodes {
				for j := range 4 {
					x[k][n][j] += w.By[i] * before.fields[k][node][j]
				}
			}
		}
	}
	for c, now := range l.border.corners {
		for d, then := range before.border.corners {
			if now == then {
				for k := range min(width, len(before.fields)) {
					x[k][l.Nodes+c] = before.fields[k][before.Nodes+d]
				}
			}
		}
	}
	return x
}

// onSheet tells which nodes lie on the cavity; the others belong to cells that its edge cuts.
func (l *level) onSheet() []bool {
	on := make([]bool, l.Nodes)
	for n := range on {
		_, on[n] = l.At(l.Place(n))
	}
	return on
}

// field is a mode's, at the nodes that lie on the cavity.
func (l *level) field(i int, on []bool) Field {
	f := Field{Min: l.Min, Step: l.Step, Columns: l.Columns + 1, Rows: l.Rows + 1, At: make([]float64, (l.Columns+1)*(l.Rows+1))}
	for k := range f.At {
		f.At[k] = math.NaN()
	}
	greatest := 0.0
	for n := range l.Nodes {
		if !on[n] {
			continue
		}
		p := l.Place(n).Sub(l.Min).Scale(1 / l.Step)
		v := l.fields[i/4][n][i%4]
		for k := range l.border.corners {
			size, _ := l.border.corners[k].of(l.Place(n))
			v += size * l.fields[i/4][l.Nodes+k][i%4]
		}
		f.At[int(math.Round(p.Y))*f.Columns+int(math.Round(p.X))] = v
		if math.Abs(v) > math.Abs(greatest) {
			greatest = v
		}
	}
	for k := range f.At {
		if greatest != 0 {
			f.At[k] /= greatest
		}
	}
	return f
}
