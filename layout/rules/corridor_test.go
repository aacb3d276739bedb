package rules

import (
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// A port on the front edge of a board of 36, 5 over the ground, whose plug is 12 by 6 and 20 long.
func frontPort() *wayOut {
	owner := &layout.Component{ID: "stacks.main.board", Label: "board", Kind: "board", Part: &shapes.Part{}}
	return &wayOut{
		port: &layout.PortPlace{
			ID: "stacks.main.board.usb", Owner: owner, Port: &shapes.Port{Name: "usb", Reach: true},
			Mouth: r2.Point{X: 18}, Dir: r2.Point{X: 1}, Axis: layout.Fixed(5),
		},
		wide: plusMinus("width", 12, 0), high: plusMinus("height", 6, 0), long: layout.Of(plusMinus("length", 20, 2)),
	}
}

// A post of 4 across from the ground to 10.
func postAt(x, y float64) *layout.Body {
	return &layout.Body{
		ID: "posts.main[1]", Of: "posts.main", Kind: layout.PostBody,
		Plan:   []geom.Region{geom.RegionOf(geom.Circle(r2.Point{X: x, Y: y}, 2))},
		Bottom: layout.Fixed(0), Top: layout.Fixed(10),
	}
}

func TestRoomOfAPort(t *testing.T) {
	w := frontPort()
	b := w.room(20)
	box := b.Plan[0].Bound()
	near(t, "near end", box.Lo.X, 18)
	near(t, "far end", box.Hi.X, 38)
	near(t, "left side", box.Hi.Y, 6)
	near(t, "underside", b.Bottom.Nominal(), 2)
	near(t, "upper side", b.Top.Nominal(), 8)

	// Upwards from the same mouth, 6 deep and 12 wide, or round.
	w.port.Up, w.port.Dir = 1, r2.Point{}
	b = w.room(20)
	near(t, "foot", b.Bottom.Nominal(), 5)
	near(t, "top", b.Top.Nominal(), 25)
	near(t, "area", b.Plan[0].Area(), 72)
	w.port.Up = -1
	near(t, "hanging end", w.room(20).Bottom.Nominal(), -15)
	w.round = true
	near(t, "corner of a round one", w.room(20).Plan[0].Bound().Hi.Y, 6)
}

func TestBlockedChargesTheLength(t *testing.T) {
	// The post begins at 39, 1 beyond the plug; 2 of length can take that and run 1 into it.
	p := &Pass{Asm: &layout.Assembly{Bodies: []*layout.Body{postAt(41, 0)}}}
	f, m, body := p.blocked(frontPort(), layout.Finding{}, layout.Fixed(0.3))
	if body == nil || f.Verdict != layout.Tight {
		t.Fatalf("got %v on %v", f.Verdict, body)
	}
	near(t, "margin", f.Margin, 0.7)
	near(t, "worst", f.Worst, 0.7-2)
	near(t, "way", m.way.X, 1)
	// Beside the plug its length changes nothing: 10 - 2 - 6.
	p.Asm.Bodies = []*layout.Body{postAt(30, 10)}
	f, _, _ = p.blocked(frontPort(), layout.Finding{}, layout.Fixed(0.3))
	near(t, "margin beside", f.Margin, 1.7)
	near(t, "worst beside", f.Worst, 1.7)
	// Out of earshot.
	p.Asm.Bodies = []*layout.Body{postAt(30, 30)}
	if _, _, body := p.blocked(frontPort(), layout.Finding{}, layout.Fixed(0.3)); body != nil {
		t.Errorf("%s is told of", body.ID)
	}
	// Straps block what goes in on the ready craft, foam and leads do not.
	strap := postAt(30, 0)
	strap.Kind, strap.Soft = layout.StrapBody, true
	p.Asm.Bodies = []*layout.Body{strap}
	if _, _, body := p.blocked(frontPort(), layout.Finding{}, layout.Fixed(0.3)); body == nil {
		t.Error("a strap does not block a port that must be reachable")
	}
	w := frontPort()
	w.port.Port = &shapes.Port{Name: "usb"}
	if _, _, body := p.blocked(w, layout.Finding{}, layout.Fixed(0.3)); body != nil {
		t.Error("a strap blocks a port that is plugged before it goes on")
	}
}

func TestTurnThatClears(t *testing.T) {
	front, left, rear, right := postAt(30, 0), postAt(0, 30), postAt(-30, 0), postAt(0, -30)
	for _, c := range []struct {
		posts []*layout.Body
		sides *shapes.SquarePattern
		want  string
	}{
		{[]*layout.Body{front}, nil, "a quarter counter-clockwise"},
		{[]*layout.Body{front, left}, nil, "a quarter clockwise"},
		{[]*layout.Body{front, left, right}, nil, "a half"},
		{[]*layout.Body{front, left, rear, right}, nil, ""},
		// Holes on a rectangle of 30 by 20 let it turn by halves alone.
		{[]*layout.Body{front}, &shapes.SquarePattern{X: plusMinus("x", 30, 0), Y: plusMinus("y", 20, 0)}, "a half"},
	} {
		w := frontPort()
		w.port.Owner.Part.Square = c.sides
		p := &Pass{Asm: &layout.Assembly{Bodies: c.posts}}
		if got := p.turnThatClears(w, layout.Fixed(0.3)); got != c.want {
			t.Errorf("%d posts: turn %q, want %q", len(c.posts), got, c.want)
		}
	}
}
