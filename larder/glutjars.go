package larder

import (
	"fmt"
	"math"
)

// Jars of a canner load (USDA AIB 539: seven quarts or nine pints; pints from memory).
const (
	quartLitres = 0.946
	pintLitres  = 0.473
	loadQuarts  = 7
	loadPints   = 9
)

// can fills in the jars and every tested process that fits the kitchen.
func (b *batcher) can(w *Way) {
	w.Tested, w.Batches = b.names.Tests(b.k.Altitude)
	if len(w.Tested) == 0 {
		*w = b.untested()
		return
	}
	w.Jar = w.Batches[0].Jar
	litres, load := quartLitres, loadQuarts
	if w.Jar == "pint" {
		litres, load = pintLitres, loadPints
	}
	w.Jars = JarCount(w.Product(), litres)
	w.Litres = float64(w.Jars) * litres
	w.Do = append(w.Do, fmt.Sprintf("%d %ss, %d to a load of the canner: %d loads.", w.Jars, w.Jar, load, (w.Jars+load-1)/load))
	if a := b.acidity(); a != "" {
		w.Do = append(w.Do, a)
	}
	for _, p := range w.Tested {
		if p.Acidify {
			w.Do = append(w.Do, Acidify)
			break
		}
	}
	if w.Batches[0].Method != BoilingWater {
		w.Do = append(w.Do, fmt.Sprintf("Pressure canner only, steam vented a full 10 minutes first: at 100 °C the same kill would take %.0f minutes.", 2.52/LethalRate(100, RefTemp, BotulinumZ)))
	}
}

// Tests returns every tested process of a food in jars at an altitude in m, and
// in step the batch that each is for; none for what the table has not.
func (n Names) Tests(altitude float64) (tested []Process, batches []Batch) {
	for _, food := range n.Canning {
		for _, method := range []string{BoilingWater, DialGauge, WeightedGauge} {
			for _, pack := range []string{"hot", "raw"} {
				for _, jar := range []string{"quart", "pint"} {
					batch := Batch{food, pack, jar, method, altitude}
					if p, err := Processing(batch); err == nil {
						tested, batches = append(tested, p), append(batches, batch)
					}
				}
			}
		}
	}
	return tested, batches
}

// acidity is the sentence on the published pH; "" where none is.
func (b *batcher) acidity() string {
	a, err := AcidClass(b.names.PH)
	if err != nil {
		return ""
	}
	span := fmt.Sprintf("pH %.2g", a.Low)
	if a.High != a.Low {
		span = fmt.Sprintf("pH %.3g to %.3g", a.Low, a.High)
	}
	return fmt.Sprintf("It is %s, %s by the published list (%s).", a.Class, span, a.Source)
}

// untested is the way into jars that is not there.
func (b *batcher) untested() Way {
	w := Way{Name: verbs[Jarred], Form: Jarred, Stop: "no tested time in the table; " + Untested}
	if a := b.acidity(); a != "" {
		w.Stop += ". " + a
	}
	return w
}

// Lethality of a spore or germ: temperatures in °C, z in K.
const (
	RefTemp    = 121.11 // °C, 250 °F
	BotulinumZ = 10.0   // K
)

// LethalRate returns how many minutes at the reference temperature a minute at
// temp kills as much as: 10^((T - Tref)/z). Source: Bigelow's form; values of
// Reichert 1977. It explains and checks tested times and makes no new one.
func LethalRate(temp, ref, z float64) float64 { return math.Pow(10, (temp-ref)/z) }

// F0 returns the minutes at 121.11 °C that a course of temperatures in °C, read
// every so many minutes at the coldest point, is worth by the trapezoid rule.
func F0(temps []float64, every float64) float64 {
	sum := 0.0
	for i := 1; i < len(temps); i++ {
		sum += every * (LethalRate(temps[i-1], RefTemp, BotulinumZ) + LethalRate(temps[i], RefTemp, BotulinumZ)) / 2
	}
	return sum
}

// Pasteurisation returns the units of so many minutes at a temperature in °C, one
// being a minute at 60 °C: t 1.393^(T - 60), for acid drinks alone.
func Pasteurisation(minutes, temp float64) float64 { return minutes * math.Pow(1.393, temp-60) }
