// Package render draws an assembly and what was found out about it.
//
// A drawing is made in two stages. First every view, dimension, mark and table becomes a
// [List] of plain values in sheet millimetres, x to the right and y down from the upper
// left corner of the paper; the body frame's y and z point up, and the flip happens once,
// when a view puts a point on the sheet. Then the list is printed as SVG 1.1. Tests read
// the list or its text dump; only svg.go knows SVG.
//
// The drawings follow ISO 128 (line kinds), ISO 129-1 (dimensions), ISO 3098 (lettering),
// ISO 5455 (scales), ISO 5456-2 (arrangement of views, third angle), ISO 5457 (sheets),
// ISO 6433 (item references) and ISO 7200 (title block); colours of wires are those of
// IEC 60757.
//
// Nothing is measured here: findings carry the points and figures that the rules found,
// and the drawing shows those, so that text and drawing cannot disagree.
package render
