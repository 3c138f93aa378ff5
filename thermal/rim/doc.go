// Package rim is the heat model of one bicycle rim and its brake pads.
//
// A Section (material and cross-section) becomes a mesh of finite volumes of
// half the section, all the way round the wheel; a Solver carries the
// temperatures of one wheel through time. NewSolver, Reset, Step and State
// are all there is to driving it. A Reduced does the same some twenty times
// faster and within a kelvin; a Family makes them for many runs that differ in
// what is not known well. The package does not know what a route is.
//
// What it models: two-dimensional orthotropic conduction in wall, flank, rim
// bed and spoke bed; specific heat that rises with temperature; braking heat
// on the swept band, averaged over the turn; its division between rim and pad
// by their shared contact temperature; convection and radiation outside; the
// air in the hollow of the rim; tyre, tube and tape as one node. What it
// leaves out: sun and hot asphalt, cross wind, heat along the spokes, differences round the wheel (a turn is
// short against all time constants but that of the skin, for which the flash
// temperature is reported apart), rain, and wear. Specific heat rises without end in
// the model; from some 150 °C on a real laminate's rises less, so that very hot
// peaks are somewhat too low.
package rim
