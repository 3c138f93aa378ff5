// Package risk says what uncertain inputs make of a result: how widely it
// spreads, how likely it passes a limit, which inputs are to blame, and how far
// one of them may go. It knows inputs only as numbers between 0 and 1, equally
// likely and independent of each other, and results only as numbers.
//
// Start with NewDesign and run the model at its points. Summarise and Exceedance
// then take the results, in the order of the points; NewExpansion and Fit find
// sensitivities from the very same runs. Search asks the inverse question.
// Everything follows from the seed, on any number of cores.
//
// What it leaves out: inputs that depend on each other, rare events beyond what
// plain sampling shows (a chance of one in a thousand takes thousands of points),
// and models that are themselves random.
package risk
