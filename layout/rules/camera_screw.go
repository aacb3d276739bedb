package rules

import "dryfit/layout"

var cameraScrew = &Rule{
	Name:     "camera-screw",
	Group:    "parts",
	Question: "do the camera's side screws hold, and end before its sensor board",
	Why:      "A side screw that is too long crushes the sensor board when it is turned home.",
	Need:     "At least 1.0 mm of thread; at most what the camera's class allows, 2.0 to 2.5 mm.",
	How:      "Length of the screw less washer and cheek (2 mm ±0.2 when the build does not say it), in mm, at worst case on both sides. Cheeks are taken as pulled up to the case.",
	Fix:      "Shorter screws, or a thicker cheek.",
	Run:      runCameraScrew,
}

func runCameraScrew(p *Pass) {
	list := p.fastenings(layout.CameraScrew)
	for _, f := range list {
		p.reaches(f)
	}
	if len(list) == 0 {
		p.Nothing("no camera is held by side screws")
	}
}
