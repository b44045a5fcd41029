package work

import "math"

const (
	gravity = 9.81  // m/s2
	air     = 1.2   // kg/m3
	muscle  = 0.24  // work out per food energy in
	drive   = 0.95  // of a bicycle
	jPerK   = 4184. // J per kcal
)

// Ride is a bicycle on a steady stretch.
type Ride struct {
	Mass  float64 // kg, all up
	Speed float64 // m/s
	Grade float64 // rise over length along the road
	Crr   float64 // rolling, 0.004-0.012
	CdA   float64 // m2, 0.5-0.7 upright, 0.1-0.3 more with a trailer
}

// Watts returns the rider's power [W], never negative: [m g (Crr cos + sin) +
// 0.5 rho CdA v^2] v / drive efficiency. Formula and constants from memory.
func (r Ride) Watts() float64 {
	angle := math.Atan(r.Grade)
	force := r.Mass*gravity*(r.Crr*math.Cos(angle)+math.Sin(angle)) + 0.5*air*r.CdA*r.Speed*r.Speed
	return math.Max(0, force*r.Speed/drive)
}

// KcalPerKm returns the food energy of a kilometre [kcal, net of rest], with
// muscle working at 24 %.
func (r Ride) KcalPerKm() float64 { return r.Watts() / muscle / r.Speed * 1000 / jPerK }

// Haul is a trip out empty and home loaded, by bicycle and trailer.
type Haul struct {
	Distance float64 // m, one way
	Climb    float64 // m risen on the way home, the hard way
	Load     float64 // kg brought home
	Rider    float64 // kg; 0: 70
	Speed    float64 // m/s loaded, on the flat
}

const (
	bicycle = 35 // kg with its trailer, common practice
	rolling = 0.008
	front   = 0.8 // m2 with a trailer
	walking = 1.1 // m/s with full hands
)

// Minutes returns the riding time of the trip, out and home, at the loaded speed
// on the flat; the climb takes the time that the same power needs to lift the
// load. Loading and talk are not counted. A haul without speed takes no time.
func (h Haul) Minutes() float64 {
	if !(h.Speed > 0) {
		return 0
	}
	flat := 2 * h.Distance / h.Speed
	return (flat + h.lift()/(h.home().Watts()*drive)) / 60
}

// Kcal returns the food energy of the trip [kcal, net of rest], out and home.
func (h Haul) Kcal() float64 {
	if !(h.Speed > 0) {
		return 0
	}
	home := h.home()
	out := home
	out.Mass -= h.Load
	km := h.Distance / 1000
	return km*(out.KcalPerKm()+home.KcalPerKm()) + h.lift()/drive/muscle/jPerK
}

func (h Haul) home() Ride {
	rider := h.Rider
	if rider <= 0 {
		rider = 70
	}
	return Ride{Mass: rider + bicycle + h.Load, Speed: h.Speed, Crr: rolling, CdA: front}
}

// lift is the work against gravity [J].
func (h Haul) lift() float64 { return h.home().Mass * gravity * math.Max(h.Climb, 0) }

// Trips returns how many trips carry an amount [kg] with a payload [kg] each; 0
// when either is not above 0. Payload by common practice: 30-45 kg on a single
// wheel, 45-70 on a light trailer of two, 100-140 on a flatbed.
func Trips(kg, payload float64) int {
	if !(kg > 0) || !(payload > 0) {
		return 0
	}
	return int(math.Ceil(kg/payload - 1e-9))
}

// CarryKcal returns the food energy of carrying a load on the back [kcal, net of
// walking without it]: 7.6 W per kg at 1.25 m/s, which is 1.45 kcal/kg/km.
func CarryKcal(kg, metres float64) float64 { return 7.6 / 1.25 / jPerK * kg * metres }
