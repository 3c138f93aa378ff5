// Package roads makes invented roads whose height, grade, corner radius and
// position are known exactly at every distance, and the demonstration and
// test routes sampled from them, with noise from a seed.
//
// No road here exists: all lie on open ocean. The committed GPX files in
// testdata are written by
//
//	go run ./testdata/roads/cmd
//
// which gives the same bytes each time.
package roads
