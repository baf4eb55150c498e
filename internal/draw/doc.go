// Package draw answers one question: given marks and words placed in
// millimetres, or a run of headings, paragraphs, tables and figures, what are
// the bytes of the SVG, the HTML page and the PDF that show them?
//
// It has two layers. A [Scene] is a display list: shapes, texts and groups in
// millimetres, x to the right and y down. A scene is written as SVG, put on a
// PDF page, measured, or dumped as readable text for comparison in tests. A
// [Document] is a list of blocks. Its blocks are laid out on A4 portrait, each
// page becoming a scene, and the same blocks are written as one HTML file that
// needs nothing else.
//
// It does not know what is drawn: no symbol here has a meaning beyond its
// shape. It reads no file, no clock and no network; equal input gives equal
// bytes.
//
// Method. Text is measured with the advance widths of Source Sans 3 (SIL Open
// Font License 1.1, fonts/OFL.txt) without kerning, which is how the PDF
// writer sets it, so that what is measured is what is printed. Lines are
// filled greedily. Pages are filled chunk by chunk, a chunk being a line of
// text, a row of a table, a figure; chunks that belong together are moved
// together. The PDF file itself is written by codeberg.org/go-pdf/fpdf.
//
// Lengths are float64 millimetres throughout, sizes of type included: a size
// is the em of the type, so 10 point is 10*Pt.
package draw
