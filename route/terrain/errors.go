package terrain

import (
	"errors"
	"io/fs"
	"strconv"
)

// A FileError is a folder or file of tiles that cannot be used.
type FileError struct {
	// File is the folder or file, as found from the name the user gave.
	File string
	// What is wrong with it, and what the user can do.
	What, Do string
}

// Error gives "file: what; do".
func (e *FileError) Error() string { return e.File + ": " + e.What + "; " + e.Do }

// A MissingTileError is a position whose tile is not in the folder.
type MissingTileError struct {
	// Name is the file that is wanted, as in N46E007.hgt.
	Name string
	// Dir is the folder that was given to Open.
	Dir string
}

func (e *MissingTileError) Error() string {
	return "no tile " + e.Name + " in " + e.Dir + "; put it there (or it packed, as " + e.Name + ".gz or .zip), or name the folder that holds it"
}

// A VoidError is a position where the tile has no height.
type VoidError struct {
	// LatDeg and LonDeg are the position, degrees.
	LatDeg, LonDeg float64
	// File is the tile's file.
	File string
}

func (e *VoidError) Error() string {
	return e.File + ": no height (void) at " + position(e.LatDeg, e.LonDeg) + "; use tiles whose voids are filled, or give the route's heights"
}

// A PositionError is a position that is not on Earth.
type PositionError struct {
	// LatDeg and LonDeg are the position, degrees.
	LatDeg, LonDeg float64
}

func (e *PositionError) Error() string {
	return "no position on Earth: " + position(e.LatDeg, e.LonDeg) + "; latitude is -90 to 90 degrees and longitude -180 to 180"
}

func position(latDeg, lonDeg float64) string {
	return "latitude " + strconv.FormatFloat(latDeg, 'g', 9, 64) + ", longitude " + strconv.FormatFloat(lonDeg, 'g', 9, 64)
}

// unreadable words a failure to open or read a file or a folder.
func unreadable(file string, err error) *FileError {
	if errors.Is(err, fs.ErrNotExist) {
		return &FileError{File: file, What: "no such file or folder", Do: "check the name"}
	}
	if pe, ok := errors.AsType[*fs.PathError](err); ok {
		err = pe.Err
	}
	return &FileError{File: file, What: "cannot be read: " + err.Error(), Do: "check the permissions, or copy it again"}
}
