package layout_test

import (
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

// Antennas on the roof (top at 30): a rod of 60 with a head of 16, leaning 30° to the
// rear; and a T hanging from the base, upright.
func TestAntennas(t *testing.T) {
	asm := layouttest.MustLoad(t, crossBuild+`
  whip: {kind: antenna, rod: 60 ±2, rod-diameter: 3 ±0.2, head: 16 ±1, head-diameter: 14 ±0.5, mass: 5}
  tee: {kind: antenna, rod: 40 ±1, rod-diameter: 2, span: 60 ±2, soft: true, mass: 1}
antennas:
  video: {part: whip, on: roof.top, at: [-40, 0], lean: 30, towards: 180}
  radio: {part: tee, on: base.bottom, at: [10, 10], lean: 0}
`)
	radio, video := asm.Antennas[0], asm.Antennas[1]
	s, c := 0.5, math.Sqrt(3)/2
	nearMM(t, "tip x", video.Tip[0], -40-76*s)
	nearMM(t, "tip y", video.Tip[1], 0)
	nearMM(t, "tip z", video.Tip[2], 30+76*c)
	head := layouttest.Body(t, asm, "antennas.video.head")
	// The head ends 76 along the rod; the rim of radius 7 stands 7·sin 30° over its axis.
	nearMM(t, "head top", head.Top.Nominal(), 30+76*c+3.5)
	lo, hi := head.Top.Worst()
	// Roof ±0.3, rod ±2 and head ±1 by the cosine.
	nearMM(t, "head top spread", hi-lo, 2*(0.3+3*c))
	encloses(t, head)
	encloses(t, layouttest.Body(t, asm, "antennas.video.stem"))
	// Set by hand ±1, half of the head's ±0.5.
	formIs(t, "head blur", head.Blur, 0, -1.25, 1.25)

	nearMM(t, "hanging tip", radio.Tip[2], -40)
	bar := layouttest.Body(t, asm, "antennas.radio.bar")
	encloses(t, bar)
	b := bar.Plan[0].Bound()
	nearMM(t, "bar across", b.Size().Y, 60+2)
	if !bar.Soft || head.Soft {
		t.Error("the T is soft, the head is not")
	}
}
