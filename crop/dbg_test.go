package crop
import ("testing";"fmt")
func TestDbg(t *testing.T){
 for _,pl:=range []string{"Macon","central Iowa","Gainesville"} { clim:=climates(t)[pl]
 for _,id:=range []string{"garlic","wheat_winter","rye","broad_bean","onion","barley","pea_dry","spinach","leek","chickpea"} { c:=cropOf(t,id); tr:=newTrial(c,clim); s:=""
  for d:=0;d<365;d+=7 { s+=fmt.Sprint(int(tr.bar(d,0.3))) }
  n:=tr.toFirst(300)
  fmt.Println(pl,id,s,n,c.DaysFirst,c.GDD, Windows(c,clim,0.3)) } }
}
