package plan

import (
	"context"
	"fmt"
	"testing"
	"time"

	"evenstead/crop"
	"evenstead/demo"
	"evenstead/engine"
	"evenstead/hearth"
	"evenstead/stead"
)

func TestDevTwo(t *testing.T) {
	st, _ := stead.Read("quernfold.toml", demo.Quernfold())
	r, err := hearth.Plain(st, hearth.Ask{Members: 100, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	a := &Ask{Stead: st, Tables: r.Tables, Members: r.Members, Options: r.Options}
	y := &years{risk: a.risk(), barred: nil, beds: st.Beds, grounds: a.grounds()}
	y.barred = map[string]crop.Bar{}
	at := time.Now()
	tries, err := a.tries(y)
	fmt.Println(len(tries), err, time.Since(at))
	at = time.Now()
	tr, err := a.probe(context.Background(), tries, a.Options, engine.NoHunger, learn)
	fmt.Println(err, time.Since(at), tr.Slots, tr.Members, len(tr.Stands))
	n := 0
	for i := range tr.Stands {
		s := &tr.Stands[i]
		if s.Try >= 0 && n < 40 {
			n++
			k := 0.0
			for _, v := range s.Kg {
				k += float64(v)
			}
			fmt.Println(s.Crop.ID, s.Sown, s.Plot, k/32, s.Out[0], s.Asked, s.Got)
		}
	}
}
