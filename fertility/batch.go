package fertility

import "math"

// A Batch is a heap made at once, or what is left of it. Phosphorus, potassium and
// water stay: its leachate is kept and it is watered as it dries.
type Batch struct {
	Dry, Water float64 // kg
	C, N       float64 // kg
	Volume     float64 // L

	start  Material // as made
	volume float64  // as made
}

// finished is the share of dry mass gone when a batch is done: 59-62 % in 120 d
// (Karnchanawong and Suriyanon 2011).
const finished = 0.605

// NewBatch makes a heap of litres of volume from materials; 0 L where nothing is given.
func NewBatch(litres float64, mix ...Material) Batch {
	b := Batch{Volume: max(0, litres), volume: max(0, litres)}
	for _, m := range mix {
		b.Dry += m.Dry()
		b.Water += m.Mass - m.Dry()
		b.C += m.C * m.Dry()
		b.N += m.N * m.Dry()
	}
	b.start = Material{Mass: b.Dry + b.Water, Moisture: MixMoisture(mix...), C: b.C / b.Dry, N: b.N / b.Dry}
	return b
}

// After carries a batch through days at tempC and returns what is left with the carbon
// and nitrogen [kg] gone to the air. Dry mass falls first-order at CompostRate, slowed
// by MoistureFactor against 0.55; carbon goes with it; nitrogen goes as NLossShare of
// the first, in step with the mass; the volume falls to a quarter when it is done
// (Missouri Extension: 20-30 %).
func (b Batch) After(days, tempC float64) (left Batch, carbon, nitrogen float64) {
	if !(b.Dry > 0) {
		return b, 0, 0
	}
	moist := b.Water / (b.Water + b.Dry)
	rate := CompostRate(tempC) * min(1, MoistureFactor(moist)/MoistureFactor(0.55))
	left = b
	var gone float64
	left.Dry, gone = Decay(b.Dry, 0, rate, days)
	carbon = b.C * gone / b.Dry
	left.C -= carbon
	nitrogen = min(b.N, b.start.N*b.start.Dry()*NLossShare(b.start.C/b.start.N)*gone/(finished*b.start.Dry()))
	left.N -= nitrogen
	left.Volume = b.volume * (1 - 0.75*left.Done())
	return left, carbon, nitrogen
}

// Done is how far a batch has come, 0 as made to 1 when done.
func (b Batch) Done() float64 {
	made := b.start.Dry()
	if !(made > 0) {
		return 0
	}
	return min(1, (made-b.Dry)/(finished*made))
}

// RipeDays returns the days until half of a heap's mass is gone at tempC and a moisture,
// when it is stable (56-91 d near 20-30 °C: Karnchanawong and Suriyanon 2011); +Inf
// where it does not work.
func RipeDays(tempC, moisture float64) float64 {
	return math.Ln2 / (CompostRate(tempC) * min(1, MoistureFactor(moisture)/MoistureFactor(0.55)))
}
