package layout

import "dryfit/shapes"

// SinkFace returns the face of a plate that a hole is counterbored or countersunk from: the
// one that the build says, else the one that the heads of the screws through it lie on, and
// for a hole without a screw the top.
func (a *Assembly) SinkFace(pl *Plate, h *Hole) shapes.Face {
	if h.Sink != nil && h.Sink.HasFace {
		return h.Sink.Face
	}
	for _, j := range a.Joints {
		if j.Level || !j.Up || !h.Loop.Contains(j.At) {
			continue
		}
		for _, l := range j.Layers {
			if l.Component == pl.ID {
				return shapes.Bottom
			}
		}
	}
	return shapes.Top
}
