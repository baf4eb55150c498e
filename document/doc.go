// Package document answers: what is on paper when the person stands in the
// house? [Pack] lays out the job pack of one worked-out job: verdict, cautions,
// connection cards, the whole job in one drawing, switch positions, readings to
// expect with boxes to write in, parts and sources. [Drawings] are those of the
// house, to scale.
//
// It lays out and never calculates: every figure on the sheets stands in the
// engine's Result. It knows no paper and no file format; package draw turns
// the blocks into PDF and HTML. The same Result gives the same document.
//
// Method. A connection card is a routed channel: cables enter at the top, the
// terminals stand at the bottom, and each core has a track of its own between
// them. Tops stand on even and feet on odd half cells, so that no two cores
// share an upright, and core ends that turn the same way are ordered so that
// they do not cross. Core letters are those of IEC 60757; the marks in the
// accessories are the package's own, simple enough for a bad light.
package document
