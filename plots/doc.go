// Package plots draws the descent figure of an assessment: the brake-track
// temperature of every candidate rim along the road, in the band that nine of ten
// draws keep to, beside it its peak against its limits, and under it the descents, the
// rests, the height of the road and its grade. Start with Save.
//
// Other sheets show a bench run (SaveBench), how air cools a rim (SaveFilmCurve),
// what the answers hang on (SaveReasons), and the margin over load and air
// (SaveMarginMap).
//
// It computes no temperature. Every number on the figure is one that the
// assessment holds, converted to the reader's units. What is left out: the
// flash temperature under the pads, the cooler of the two wheels, and the
// cooling after the end of the ride.
//
// A figure is built in two steps. A scene of shapes and labels is laid out in
// printer's points, which needs only the assessment and the widths of the
// letters; a painter then puts the scene on paper in one of the formats. The
// same assessment gives the same bytes.
package plots
