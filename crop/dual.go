package crop

import "math"

// Topsoil is the evaporating layer of bare soil, mm (FAO-56 table 19 and eq. 73).
type Topsoil struct{ TEW, REW float64 }

// TotalEvaporable returns TEW [mm] = 1000 (fc - 0.5 wp) Ze, with the water
// contents at field capacity and wilting [m3/m3] and the depth Ze [m, 0.10-0.15].
// Source: FAO-56 eq. 73.
func TotalEvaporable(fc, wp, ze float64) float64 { return 1000 * (fc - 0.5*wp) * ze }

// Kr is the drying of the surface: 1 to De = REW [mm], then straight to 0 at TEW.
// Source: FAO-56 eq. 74.
func (t Topsoil) Kr(de float64) float64 {
	if de <= t.REW {
		return 1
	}
	return Stress(de, t.TEW, t.REW)
}

// KcMax is the most that soil and crop evaporate together. Source: FAO-56 eq. 72.
func KcMax(kcb, u2, rhMin, height float64) float64 {
	return math.Max(1.2+climateTerm(u2, rhMin, height), kcb+0.05)
}

// Cover is the share of ground shaded: [(Kcb - 0.15)/(KcMax - 0.15)]^(1 + 0.5 h),
// h the height [m], held to 0..0.99. Source: FAO-56 eq. 76.
func Cover(kcb, kcMax, height float64) float64 {
	const bare = 0.15
	return clamp(math.Pow(math.Max(kcb-bare, 0)/(kcMax-bare), 1+0.5*height), 0, 0.99)
}

// Exposed is few, the share of ground both wet and in the sun, from cover fc and
// wetted share fw. Source: FAO-56 eq. 75.
func Exposed(fc, fw float64) float64 { return math.Min(1-fc, fw) }

// ExposedDrip is Exposed for drip under the canopy: fw (1 - 2/3 fc). Source:
// FAO-56 eq. 75, text.
func ExposedDrip(fc, fw float64) float64 { return fw * (1 - 2.0/3*fc) }

// Ke is soil evaporation as a coefficient. Source: FAO-56 eq. 71.
func Ke(kr, kcMax, kcb, few float64) float64 {
	return math.Max(0, math.Min(kr*(kcMax-kcb), few*kcMax))
}

// A Surface is what one day brings to the topsoil.
type Surface struct {
	Rain, Irrigation float64 // mm; rain less run-off, irrigation over the whole field
	Fw, Few          float64 // wetted share, exposed and wetted share
	Kcb, KcMax, ET0  float64
}

// A Dried is what one day leaves: the coefficients, evaporation E and drainage
// [mm over the whole field and over the wetted part], and De at the day's end.
type Dried struct{ Kr, Ke, E, Drained, De float64 }

// Day carries the topsoil depletion De [mm] through a day. Order: rain and
// irrigation come first and their surplus drains, then the soil evaporates from
// what is left. Source: FAO-56 eq. 71, 74, 77 and the order of example 35.
func (t Topsoil) Day(de float64, s Surface) Dried {
	d := de - s.Rain
	if s.Fw > 0 {
		d -= s.Irrigation / s.Fw
	}
	out := Dried{Drained: math.Max(-d, 0)}
	d = clamp(d, 0, t.TEW)
	out.Kr = t.Kr(d)
	out.Ke = Ke(out.Kr, s.KcMax, s.Kcb, s.Few)
	out.E = math.Min(out.Ke*s.ET0, s.Few*(t.TEW-d))
	out.De = d
	if s.Few > 0 {
		out.De += out.E / s.Few
	}
	return out
}
