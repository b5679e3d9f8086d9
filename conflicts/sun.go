package conflicts

import (
	"math"
	"time"
)

// The sun's place, by the equations of the NOAA Solar Calculator
// (gml.noaa.gov/grad/solcalc/calcdetails.html), which are those of Meeus,
// Astronomical Algorithms, ch. 25 and 28. They are good to about 0.01 degree
// from 1800 to 2100, and still sufficient from -1000 to 3000.
type sun struct {
	longitude   float64 // apparent, in degrees from 0 to 360
	declination float64 // in degrees
	ahead       float64 // the equation of time: minutes by which a sundial is ahead of the mean sun
}

const degree = math.Pi / 180

func sin(degrees float64) float64 { return math.Sin(degrees * degree) }
func cos(degrees float64) float64 { return math.Cos(degrees * degree) }
func tan(degrees float64) float64 { return math.Tan(degrees * degree) }

// centuries is the Julian centuries since noon of 1 January 2000.
func centuries(t time.Time) float64 {
	return float64(t.Unix()-946728000) / (36525 * 24 * 60 * 60)
}

func sunAt(at time.Time) sun {
	t := centuries(at)
	mean := 280.46646 + t*(36000.76983+t*0.0003032)
	anomaly := 357.52911 + t*(35999.05029-t*0.0001537)
	eccentricity := 0.016708634 - t*(0.000042037+t*0.0000001267)
	centre := sin(anomaly)*(1.914602-t*(0.004817+t*0.000014)) +
		sin(2*anomaly)*(0.019993-t*0.000101) + sin(3*anomaly)*0.000289
	node := 125.04 - 1934.136*t
	longitude := mean + centre - 0.00569 - 0.00478*sin(node)
	tilt := 23 + (26+(21.448-t*(46.815+t*(0.00059-t*0.001813)))/60)/60 + 0.00256*cos(node)

	y := tan(tilt/2) * tan(tilt/2)
	ahead := y*sin(2*mean) - 2*eccentricity*sin(anomaly) + 4*eccentricity*y*sin(anomaly)*cos(2*mean) -
		y*y*sin(4*mean)/2 - 1.25*eccentricity*eccentricity*sin(2*anomaly)
	longitude = math.Mod(longitude, 360)
	if longitude < 0 {
		longitude += 360
	}
	return sun{longitude, math.Asin(sin(tilt)*sin(longitude)) / degree, 4 * ahead / degree}
}

// Zeniths of the sun's centre, in degrees. Sunrise and sunset: the refraction
// at the horizon and half the disc. Dusk: the end of civil twilight.
const (
	horizon = 90.833
	civil   = 96
)

// hourAngle is by how many degrees the earth turns between noon and the moment
// at which the sun stands so far from the zenith; not ok where it never does.
func (s sun) hourAngle(lat, zenith float64) (degrees float64, ok bool) {
	x := cos(zenith)/(cos(lat)*cos(s.declination)) - tan(lat)*tan(s.declination)
	if math.Abs(x) > 1 {
		return 0, false
	}
	return math.Acos(x) / degree, true
}
