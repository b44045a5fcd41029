package weather

// mild are the normals of an invented place with a wet winter and a dry summer.
var mild = Normals{
	Rain:    [12]float64{112, 96, 84, 68, 46, 19, 5, 8, 29, 83, 118, 124},
	WetDays: [12]float64{12, 11, 11, 9, 7, 3, 1, 1, 4, 8, 11, 12},
	TMin:    [12]float64{3.4, 3.9, 5.3, 7.1, 10.2, 13.6, 15.9, 15.8, 13.4, 10.1, 6.4, 4.1},
	TMax:    [12]float64{12.3, 13.9, 16.6, 19.0, 22.8, 27.5, 31.2, 31.0, 27.6, 21.9, 16.1, 12.8},
	TMinSD:  3.2, TMaxSD: 3.5, Persistence: 0.25, RainCV: 0.22,
}
