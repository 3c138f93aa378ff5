// Package terrain reads heights of the ground from a folder of elevation
// tiles in the open HGT form, for routes that came without heights.
//
// Start with Open, then ask HeightAt for each position. Notes says in
// sentences what was read, for the user to see.
//
// A tile is one degree of latitude by one of longitude (WGS84), named by its
// south-west corner (N46E007.hgt, S01W072.hgt): signed 16-bit big-endian
// heights in metres above mean sea level (geoid EGM96), rows from north to
// south, columns from west to east, 3601 x 3601 of them (1 arc-second) or
// 1201 x 1201 (3 arc-seconds). Outermost samples lie on the edges and are
// shared with the neighbours, so one tile answers for all of its square.
// -32768 stands for no height (a void). The form is that in which the heights
// of the Shuttle Radar Topography Mission were given out (Farr et al., The
// Shuttle Radar Topography Mission, Reviews of Geophysics 45 (2007) RG2004);
// its details are from memory.
//
// Tiles may be packed, as .hgt.gz or as a .zip that holds the .hgt. They are
// read when first needed, and CachedTiles of them are kept.
//
// The package knows nothing of routes: what to do about a position without
// height is the caller's to decide. It does not smooth, and a tile on a
// bridge, in a tunnel or in a gorge tells the height of the ground, not that
// of the road.
package terrain
