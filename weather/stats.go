package weather

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

func sum(x []float64) float64 { return floats.Sum(x) }

// meanSD returns the mean and the sample standard deviation.
func meanSD(x []float64) (mean, sd float64) { return stat.MeanStdDev(x, nil) }
