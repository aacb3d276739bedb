package layout_test

import (
	"testing"

	"dryfit/layout/layouttest"
)

// Three decks: base, a middle plate on posts, a deck on posts that stand on the
// middle one.
func TestPostsOnAPlateOnPosts(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: decks
plates:
  base: {material: mat, thickness: 3 ±0.1, outline: {rectangle: [90, 50]}}
  middle: {material: mat, thickness: 2 ±0.1, on: posts.lower, outline: {rectangle: [90, 50]}}
  deck: {material: mat, thickness: 1.5 ±0.1, on: posts.upper, outline: {rectangle: [60, 50]}}
posts:
  lower: {part: post, length: 20 ±0.1, from: base.top, at: [40, 20], mirror: both}
  upper: {part: post, length: 15 ±0.2, from: middle.top, at: [20, 20], mirror: both}
`+roundParts)
	// 3 + 20 + 2 = 25 under the upper posts, 40 under the top plate.
	top := asm.Plates[2]
	if top.ID != "plates.deck" {
		t.Fatalf("highest plate is %s", top.ID)
	}
	formIs(t, "top plate", top.Bottom, 40, 40-0.5, 40+0.5)
	gap := top.Bottom.Sub(asm.Plates[1].Top)
	formIs(t, "upper deck", gap, 15, 14.8, 15.2)
	if p := asm.Posts[4]; p.ID != "posts.upper[1]" || p.Lower != "plates.middle" || p.Upper != "plates.deck" {
		t.Errorf("post %s joins %s and %s", p.ID, p.Lower, p.Upper)
	}
}

// Legs that hang from the base carry a skid plate, which is then the lowest: heights
// count from its underside.
func TestLowestPlateHangs(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: skid
rotors: {layout: cross, wheelbase: 120, motor: mot, prop: blade}
plates:
  base: {material: mat, thickness: 3 ±0.1, outline: {circle: 160}}
  skid: {material: mat, thickness: 1 ±0.1, under: posts.legs, outline: {rectangle: [60, 30]}}
posts:
  legs: {part: post, length: 12 ±0.1, from: base.bottom, at: [25, 10], mirror: both}
`+roundParts)
	skid, base := asm.Plates[0], asm.Plates[1]
	if skid.ID != "plates.skid" {
		t.Fatalf("lowest plate is %s", skid.ID)
	}
	formIs(t, "skid bottom", skid.Bottom, 0, 0, 0)
	formIs(t, "skid top", skid.Top, 1, 0.9, 1.1)
	formIs(t, "base bottom", base.Bottom, 13, 12.8, 13.2)
	formIs(t, "base top", base.Top, 16, 15.7, 16.3)
	nearMM(t, "seat", asm.Rotors[0].Seat.Nominal(), 31)
	if p := asm.Posts[0]; p.Lower != "plates.skid" || p.Upper != "plates.base" {
		t.Errorf("leg joins %s and %s", p.Lower, p.Upper)
	}
}

// A plate straight on another, and one straight under it.
func TestPlateOnAndUnderPlate(t *testing.T) {
	asm := layouttest.MustLoad(t, `
dryfit: 1
name: sandwich
plates:
  core: {material: mat, thickness: 4 ±0.15, outline: {rectangle: [50, 50]}}
  lid: {material: mat, thickness: 2 ±0.1, on: core, outline: {rectangle: [40, 40]}}
  pan: {material: mat, thickness: 1 ±0.1, under: core, outline: {rectangle: [40, 40]}}
`+roundParts)
	formIs(t, "pan", asm.Plates[0].Bottom, 0, 0, 0)
	formIs(t, "core", asm.Plates[1].Bottom, 1, 0.9, 1.1)
	formIs(t, "lid", asm.Plates[2].Top, 7, 7-0.35, 7+0.35)
}
