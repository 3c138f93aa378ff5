package ride

import (
	"fmt"
	"math"

	"rimheat/thermal/air"
)

// The hours of the day at which the air is coolest and hottest, seconds of
// local clock time: about sunrise, and some three hours after noon. Season,
// place in the time zone and summer time move both by an hour or two; common
// practice, no source.
const (
	CoolestAtS = 6 * 3600.0
	HottestAtS = 15 * 3600.0
)

// dayS is the length of a day, s.
const dayS = 24 * 3600.0

// A Daily is how the air temperature goes with the hour. Between the day's two
// extremes it follows half a cosine each way, so that it has no corner:
//
//	from 06 to 15 h:          MinK + (MaxK-MinK) (1 - cos(pi (h-6)/9)) / 2
//	from 15 to 06 h next day: MinK + (MaxK-MinK) (1 + cos(pi (h-15)/15)) / 2
//
// with h the hour; common practice, no source. Crop models have a sine by day
// and a decay by night (W. J. Parton and J. A. Logan, A model for diurnal
// variation in soil and air temperature, Agric. Meteorol. 23 (1981) 205, from
// memory); this is simpler and needs no hour of sunset. Every day is like the
// next. Relative humidity stays as it is, although it falls as a day warms: it
// is worth under 1 % of drag.
type Daily struct {
	// On says that the ride has an hour; the rest counts for nothing without.
	On bool
	// StartS is the local clock time at which the ride starts, seconds since
	// midnight.
	StartS float64
	// MinK and MaxK are the day's coolest and hottest air at the height that
	// the weather's temperature holds at, K; 0 if not given.
	MinK, MaxK float64
}

// AirK is the air temperature timeS after the start of the ride, K.
func (d Daily) AirK(timeS float64) float64 {
	s := math.Mod(d.StartS+timeS-CoolestAtS, dayS) // since it was coolest
	if s < 0 {
		s += dayS
	}
	const rise = HottestAtS - CoolestAtS
	half := s / rise // of a cosine: 0 and 2 coolest, 1 hottest
	if s > rise {
		half = 1 + (s-rise)/(dayS-rise)
	}
	return d.MinK + (d.MaxK-d.MinK)*(1-math.Cos(math.Pi*half))/2
}

// Validate reports the first value that no day has. A temperature that is not
// given is none.
func (d Daily) Validate() error {
	var bounds []bound
	if d.On || d.MinK != 0 {
		bounds = append(bounds, bound{"the day's coolest air", d.MinK - air.ZeroCelsiusK, coolestAirC, hottestAirC, "°C"})
	}
	if d.On || d.MaxK != 0 {
		bounds = append(bounds, bound{"the day's hottest air", d.MaxK - air.ZeroCelsiusK, coolestAirC, hottestAirC, "°C"})
	}
	if d.On {
		bounds = append(bounds, bound{"start of the ride", d.StartS / 3600, 0, 24, "h"})
	}
	if err := firstOutside(bounds); err != nil {
		return err
	}
	if d.On && d.MinK > d.MaxK {
		return fmt.Errorf("the day's coolest air, %g °C, is above its hottest, %g °C", d.MinK-air.ZeroCelsiusK, d.MaxK-air.ZeroCelsiusK)
	}
	return nil
}

// airTempK is the air temperature at the height that it is given for, timeS
// after the start, K.
func (w *Weather) airTempK(timeS float64) float64 {
	if w.Daily.On {
		return w.Daily.AirK(timeS)
	}
	return w.AirTempK
}
