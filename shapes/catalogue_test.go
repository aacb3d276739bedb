package shapes

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"dryfit/shapes/read"
)

func builtin(t testing.TB) *Library {
	t.Helper()
	lib, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestCatalogueFilesLoadWhole: each file is valid as a part file, and the quick scan
// finds exactly the parts, kinds and titles that the strict loader finds.
func TestCatalogueFilesLoadWhole(t *testing.T) {
	lib := builtin(t)
	files, err := os.ReadDir("catalogue")
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for _, file := range files {
		data, err := read.ReadFile("catalogue/" + file.Name())
		if err != nil {
			t.Fatal(err)
		}
		root, ds := read.Load(file.Name(), data)
		for _, e := range PartEntries(ds, root) {
			count++
			i, ok := lib.index.byName[e.Key]
			if !ok {
				t.Errorf("%s: the scan misses %s", file.Name(), e.Key)
				continue
			}
			got := lib.index.list[i]
			if string(got.kind) != e.Value.Get("kind").Raw() || got.first != e.KeyPos.Line || got.file != "catalogue/"+file.Name() {
				t.Errorf("%s: scanned as %s at %s:%d", e.KeyPos, got.kind, got.file, got.first)
			}
			if title := e.Value.Get("title"); title == nil || got.title != title.Raw() || title.Raw() == "" {
				t.Errorf("%s: title %q", e.KeyPos, got.title)
			}
		}
		if err := ds.Err(); err != nil {
			t.Error(err)
		}
	}
	if count != len(lib.index.list) {
		t.Errorf("%d parts in the files, %d scanned", count, len(lib.index.list))
	}
}

// TestCatalogueDecodes: every part decodes without a mistake, and every figure says how
// well it is known and what kind of source it has.
func TestCatalogueDecodes(t *testing.T) {
	lib := builtin(t)
	for _, name := range lib.Names() {
		ds := &read.Diags{}
		p, _ := lib.find(name, ds, nil)
		if ds.Len() > 0 || p == nil {
			t.Errorf("%s:\n%s", name, ds)
			continue
		}
		if p.Name != name || p.Source != Catalogue || p.Title == "" {
			t.Errorf("%s: name %q source %s title %q", name, p.Name, p.Source, p.Title)
		}
		if weighs(p.Kind) && (p.Mass == nil || p.Mass.Missing) && p.NoMass == "" {
			t.Errorf("%s has neither mass nor a reason for having none", name)
		}
		for _, f := range p.Figures() {
			d := f.Dim
			if d == nil {
				continue
			}
			if d.Missing {
				if !strings.HasSuffix(d.Name, " fov") { // no other figure that rules need may lack
					t.Errorf("%s: %s is missing", name, f.Label)
				}
				continue
			}
			if d.Source == Assumed {
				if f.Label != "board edge" && f.Label != "hole clear" && f.Label != "hole place" && f.Label != "pcb" {
					t.Errorf("%s: %s is assumed", name, f.Label)
				}
				continue
			}
			if d.Conf == "" || d.Kind == "" || d.Source != Catalogue {
				t.Errorf("%s: %s has conf %q, source kind %q, source %s", name, f.Label, d.Conf, d.Kind, d.Source)
			}
			if d.Plus < 0 || d.Minus < 0 || math.IsNaN(d.Value) {
				t.Errorf("%s: %s is %+v", name, f.Label, d)
			}
			if !strings.HasPrefix(d.Name, name+" ") {
				t.Errorf("%s: the figure %s is called %q", name, f.Label, d.Name)
			}
		}
		for i := range p.Ports {
			if port := p.Ports[i]; port.Plug != "" {
				if c, ok := lib.Find(port.Plug); !ok || c.Kind != Connector {
					t.Errorf("%s: port %s takes %q, which is no connector", name, port.Name, port.Plug)
				}
			}
		}
	}
}

// TestCatalogueOrder checks relations that any real part keeps.
func TestCatalogueOrder(t *testing.T) {
	lib := builtin(t)
	less := func(name, what string, a, b *Dim) {
		t.Helper()
		if a.Value > b.Value {
			t.Errorf("%s: %s: %g > %g", name, what, a.Value, b.Value)
		}
	}
	for _, p := range lib.ByKind(MotorKind) {
		m := p.Motor
		// A stator number starts with the winding core's diameter in two digits; the bell
		// around it adds gap, magnets and wall: 2 to 7 mm.
		core, err := strconv.ParseFloat(m.Stator[:2], 64)
		if err != nil || m.BellD.Value < core+2 || m.BellD.Value > core+7 {
			t.Errorf("%s: bell %g round a core of %s", p.Name, m.BellD.Value, m.Stator[:2])
		}
		// Its height is more than the core's height by two bells' ends and the base.
		height, err := strconv.ParseFloat(m.Stator[2:], 64)
		if err != nil || m.BodyH.Value < height+5 || m.BodyH.Value > height+18 {
			t.Errorf("%s: body height %g over a core of %s", p.Name, m.BodyH.Value, m.Stator[2:])
		}
		less(p.Name, "body height over overall height", m.BodyH, m.OverallH)
		less(p.Name, "base wider than the bell", m.BaseD, m.BellD)
		less(p.Name, "penetration over usable thread", m.Penetration, m.ThreadUsable)
		if m.CellsLo < 1 || m.CellsHi < m.CellsLo || len(m.Circles) == 0 || len(m.Mounts) == 0 {
			t.Errorf("%s: cells %d..%d, %d circles, mounts %v", p.Name, m.CellsLo, m.CellsHi, len(m.Circles), m.Mounts)
		}
		for _, c := range m.Circles {
			less(p.Name, "holes outside the bell", c.Diameter, m.BellD)
			// web between centre hole and screw holes
			if screw, _ := strconv.ParseFloat(strings.TrimPrefix(c.Screw, "M"), 64); c.Diameter.Value-screw < m.CentreHole.Value+1 {
				t.Errorf("%s: centre hole %g runs into screws on %g", p.Name, m.CentreHole.Value, c.Diameter.Value)
			}
		}
	}
	last := 0.0
	for _, name := range []string{"prop-31mm", "prop-35mm", "prop-40mm", "prop-45mm", "prop-2", "prop-2.5", "prop-3", "prop-3.5", "prop-4", "prop-5", "prop-6", "prop-7", "prop-8", "prop-9", "prop-10"} {
		p, ok := lib.Find(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		q := p.Prop
		if p.Mass.Value <= last {
			t.Errorf("%s is lighter than the next smaller", name)
		}
		last = p.Mass.Value
		if math.Abs(q.RealD.Value-q.NominalD.Value) > 0.012*q.NominalD.Value {
			t.Errorf("%s: real %g, label %g", name, q.RealD.Value, q.NominalD.Value)
		}
		less(name, "flex down over flex up", q.FlexDown, q.FlexUp)
		less(name, "hub over half the disc", q.HubD, &Dim{Value: q.NominalD.Value / 2})
	}
	for _, p := range append(append(lib.ByKind(Controller), lib.ByKind(EscFour)...), append(lib.ByKind(AllInOne), lib.ByKind(PowerBoard)...)...) {
		b := p.Body
		if s := p.Square; s != nil {
			less(p.Name, "holes off the board in x", s.X, b.Length)
			less(p.Name, "holes off the board in y", s.Y, b.Width)
			if s.Screw == "" || s.Hole.Value < 1.6 {
				t.Errorf("%s: screw %q in a hole of %g", p.Name, s.Screw, s.Hole.Value)
			}
		}
		less(p.Name, "board thicker than 2", b.Pcb, &Dim{Value: 2})
		for _, z := range b.Zones {
			box := z.Area.Bound()
			if box.Hi.X > b.Length.Value/2+0.01 || box.Hi.Y > b.Width.Value/2+0.01 || box.Lo.X < -b.Length.Value/2-0.01 || box.Lo.Y < -b.Width.Value/2-0.01 {
				t.Errorf("%s: zone %s lies off the board", p.Name, z.Name)
			}
		}
		for _, pad := range p.Pads {
			if math.Abs(pad.At.X) > b.Length.Value/2 || math.Abs(pad.At.Y) > b.Width.Value/2 {
				t.Errorf("%s: pad %s lies off the board", p.Name, pad.Name)
			}
		}
	}
	for _, p := range lib.ByKind(Battery) {
		// 17 to 34 g for each cell and ampere-hour, small packs being the heaviest.
		if g := p.Mass.Value / (float64(p.Pack.Cells) * p.Pack.Capacity.Value / 1000); g < 16 || g > 34 {
			t.Errorf("%s: %g g a cell and ampere-hour", p.Name, g)
		}
	}
	for _, p := range lib.ByKind(CameraKind) {
		c := p.Camera
		less(p.Name, "lens longer than the camera", c.LensLength, c.Depth)
		less(p.Name, "pivot before the lens", c.PivotBack, c.Depth)
		less(p.Name, "lens wider than the case", c.LensD, c.Width)
	}
	for _, p := range lib.ByKind(SleeveKind) {
		less(p.Name, "shrinks the wrong way", p.Sleeve.Recovered, p.Sleeve.Supplied)
	}
	for _, p := range lib.ByKind(GrommetKind) {
		less(p.Name, "tightening makes it higher", p.Grommet.Tight, p.Grommet.Free)
		less(p.Name, "narrower than its hole", p.Grommet.BoardHole, p.Grommet.OD)
	}
	for _, p := range lib.ByKind(PadKind) {
		less(p.Name, "grows under load", p.Cushion.Tight, p.Cushion.Free)
	}
	for _, p := range lib.ByKind(ThreadKind) {
		th := p.Thread
		if th.TapDrill >= th.Major || math.Abs(th.TapDrill-(th.Major-th.Pitch)) > 0.06 { // tap drill is about major less pitch
			t.Errorf("%s: tap drill %g, major %g, pitch %g", p.Name, th.TapDrill, th.Major, th.Pitch)
		}
		for _, h := range th.Heads {
			if h.D <= th.Major || h.H <= 0 || h.Standard == "" {
				t.Errorf("%s: head %+v", p.Name, h)
			}
		}
	}
	for _, p := range lib.ByKind(WireKind) {
		if w := p.Wire; !w.Coax {
			// ASTM B258: d = 0.127 mm · 92^((36-n)/39); R = 17.241 Ω·mm²/km over its section.
			d := 0.127 * math.Pow(92, (36-w.Gauge)/39)
			if ohm := 17.241 / (math.Pi / 4 * d * d); math.Abs(ohm-w.OhmPerKm) > 0.01*ohm || w.OD.Value <= d {
				t.Errorf("%s: %g Ω/km, formula %g; outside %g over %g", p.Name, w.OhmPerKm, ohm, w.OD.Value, d)
			}
		}
	}
}

// TestCatalogueCounts: what the trade's sections call for is there.
func TestCatalogueCounts(t *testing.T) {
	lib := builtin(t)
	least := map[Kind]int{
		Controller: 6, EscFour: 5, AllInOne: 2, EscSingle: 7, PowerBoard: 3, Regulator: 3, Receiver: 6, VideoTx: 9,
		CameraKind: 6, AntennaKind: 10, GPS: 4, Buzzer: 2, Capacitor: 12, Light: 3, Payload: 5, Battery: 37,
		MotorKind: 30, PropKind: 16, Connector: 30, ThreadKind: 6, StandoffKind: 12, GrommetKind: 4, StrapKind: 6,
		TieKind: 4, PadKind: 6, SleeveKind: 20, MaterialKind: 8, WireKind: 14, Block: 3,
	}
	for _, k := range Kinds() {
		if n := len(lib.ByKind(k)); n < least[k] || least[k] == 0 {
			t.Errorf("%d of kind %s, want at least %d", n, k, least[k])
		}
	}
	if n := len(lib.List()); n < 220 {
		t.Errorf("%d parts", n)
	}
}
