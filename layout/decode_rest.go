package layout

import (
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// mass reads the section mass.
func (d *decoder) mass(n *read.Node) {
	if n == nil {
		return
	}
	f := d.diags.Fields(n, "the mass")
	d.b.MassLimit = d.dim(f.Get("limit"), "mass limit", shapes.MassG())
	d.b.Allowance = d.dim(f.Get("allowance"), "mass allowance", shapes.MassG())
	f.Done()
}

// guard reads the plates that guard what sits between them.
func (d *decoder) guard(f *read.Fields) {
	n := f.Get("guard")
	if n == nil {
		return
	}
	items, ok := d.diags.List(n)
	if !ok {
		return
	}
	if len(items) == 0 {
		d.diags.At(n, "the list of plates is empty", "names of plates, such as [base, roof]", "without `guard:` all plates count")
	}
	d.b.Guard = make([]*Target, len(items))
	for i, item := range items {
		d.ref(item, &d.b.Guard[i], wantPlate())
	}
}

// NeedNames lists the rules whose need a build can set under `needs:`, in order. A test
// of the package of the rules holds it to the rules that ask for one.
func NeedNames() []string {
	return []string{
		"balance", "board-gap", "body-gap", "button-reach", "camera-tilt", "connector-exit", "driver-access", "esc-on-arm",
		"exit-to-prop", "head-seat", "heads-under-pack", "hole-edge", "inside-guard", "part-support", "prop-mount", "prop-sweep", "prop-tip-gap", "prop-underside",
		"stack-height", "standoff-against-parts", "strap-and-slot", "strap-over-lead", "web-width", "wire-space", "wire-sweep",
	}
}

// needs reads clearances asked for in place of the rules' own.
func (d *decoder) needs(n *read.Node) {
	if n == nil {
		return
	}
	if n.Kind() != read.Map {
		d.diags.At(n, "`needs:` is a map from rules to lengths, not "+n.Describe(), "such as {prop-tip-gap: 4 mm}", "")
		return
	}
	for _, e := range n.Entries() {
		if !slices.Contains(NeedNames(), e.Key) {
			d.diags.AtKey(n, e, read.Quote(e.Key)+" is not a rule with a need in mm", "one of "+strings.Join(NeedNames(), ", "),
				read.DidYouMean(e.Key, NeedNames()))
			continue
		}
		need := Need{Rule: e.Key, MM: d.dim(e.Value, "need "+e.Key, shapes.LengthMM().Between(0, 500)), Pos: e.KeyPos}
		d.known(e.Value, need.MM)
		d.b.Needs = append(d.b.Needs, need)
	}
	slices.SortFunc(d.b.Needs, func(a, b Need) int { return strings.Compare(a.Rule, b.Rule) })
}

// touching reads the pairs that may touch.
func (d *decoder) touching(f *read.Fields) {
	for _, n := range f.List("touching") {
		t := &Touching{Pos: n.Pos()}
		tf := d.diags.Fields(n, "an excuse")
		if !tf.OK() {
			continue
		}
		d.b.Touching = append(d.b.Touching, t)
		if pn := tf.Need("pair", "the two that may touch, such as [mounts.receiver, stacks.main.BOARD]"); pn != nil {
			if items := pn.Items(); len(items) == 2 {
				d.ref(items[0], &t.A, wantAnything())
				d.ref(items[1], &t.B, wantAnything())
				if items[0].Kind() == read.Scalar && items[0].Raw() == items[1].Raw() {
					d.diags.At(items[1], "a part always touches itself", "two different things", "")
				}
			} else {
				d.diags.At(pn, "a pair is a list of two", "such as [mounts.receiver, stacks.main.BOARD]", "")
			}
		}
		if wn := tf.Need("why", "the reason, which reports print"); wn != nil {
			s, ok := d.diags.Text(wn)
			t.Why = strings.TrimSpace(s)
			if ok && t.Why == "" {
				d.diags.At(wn, "the reason is empty", "the reason, which reports print", "")
			}
		}
		tf.Done()
	}
}

// ports reads how ports are used. Keys are references with a port's name behind them.
func (d *decoder) ports(n *read.Node, ix *index) {
	if n == nil {
		return
	}
	if n.Kind() != read.Map {
		d.diags.At(n, "`ports:` is a map of ports, not "+n.Describe(), "such as {stacks.main.BOARD.usb: {used: false}}", "")
		return
	}
	for _, e := range n.Entries() {
		p := &PortSpec{Pos: e.KeyPos}
		pf := d.diags.Fields(e.Value, "a port's use")
		p.Used, p.Angled, p.Reach = d.maybe(pf, "used"), d.maybe(pf, "angled"), d.maybe(pf, "reach")
		pf.Done()
		if d.portOwner(n, e, p, ix) {
			d.b.Ports = append(d.b.Ports, p)
		}
	}
	slices.SortFunc(d.b.Ports, func(a, b *PortSpec) int {
		return strings.Compare(a.Owner.ID()+"."+a.Port, b.Owner.ID()+"."+b.Port)
	})
}

func (d *decoder) maybe(f *read.Fields, key string) *bool {
	if n := f.Get(key); n != nil {
		if v, ok := d.diags.Bool(n); ok {
			return &v
		}
	}
	return nil
}

// portOwner finds the board or mount of a port's key, and the port on it.
func (d *decoder) portOwner(n *read.Node, e read.Entry, p *PortSpec, ix *index) bool {
	const form = "the name of a board or mounted part, a dot and the name of one of its ports"
	cut := strings.LastIndex(e.Key, ".")
	if cut < 0 {
		d.diags.AtKey(n, e, read.Quote(e.Key)+" does not say which port", form, "such as "+e.Key+".usb")
		return false
	}
	owner, port := e.Key[:cut], e.Key[cut+1:]
	t := ix.find(owner)
	if t == nil || (t.Kind != TargetBoard && t.Kind != TargetMount) {
		if d.letPass(owner) {
			return false
		}
		hint := read.DidYouMean(owner, ix.texts(TargetBoard, TargetMount))
		d.diags.AtKey(n, e, read.Quote(owner)+" is no board or mounted part of this build", form, hint)
		return false
	}
	found := *t
	found.Text, found.Pos = owner, e.KeyPos
	p.Owner, p.Port = &found, port
	part := d.partOf(t)
	if part == nil || d.faulty[part.Name] {
		return false // the part has been reported
	}
	var names []string
	for _, has := range part.Ports {
		names = append(names, has.Name)
	}
	if slices.Contains(names, port) {
		return true
	}
	want := "one of " + strings.Join(names, ", ")
	if len(names) == 0 {
		want = "a part with ports"
	}
	d.diags.AtKey(n, e, part.Name+" has no port "+read.Quote(port), want, read.DidYouMean(port, names))
	return false
}

// partOf returns the part behind a board or mount.
func (d *decoder) partOf(t *Target) *shapes.Part {
	for _, s := range d.b.Stacks {
		if t.Kind == TargetBoard && s.Name == t.Name {
			if it := s.Item(t.Item); it != nil {
				return it.Part
			}
		}
	}
	for _, m := range d.b.Mounts {
		if t.Kind == TargetMount && m.Name == t.Name {
			return m.Part
		}
	}
	return nil
}
