// Package plots draws an assessment, and writes what people take along: figures, the
// report, the route with waypoints, the history as a table.
//
// Save draws the descent figure: the brake-track temperature of every candidate rim along
// the road, in the band that nine of ten draws keep to, beside it its peak against its
// limits, and under it the descents, the rests, the height of the road and its grade.
// SaveRouteMap draws the road from above by temperature, SaveSections the rims cut
// through, SaveEnergy where the energy of each descent went, SaveReasons what the answers
// hang on; SaveMarginMap the margin over load and air, SaveBench a bench run,
// SaveFilmCurve how air cools a rim. SaveReport makes of them a page for a customer or
// pages of figures, SaveGPX marks the route, SaveHistory lists the ride.
//
// It computes no temperature. Every number on a figure is one that the assessment holds,
// converted to the reader's units.
//
// A figure is built in two steps. A scene of shapes and labels is laid out in
// printer's points, which needs only the assessment and the widths of the
// letters; a painter then puts the scene on paper in one of the formats. The
// same assessment gives the same bytes.
package plots
