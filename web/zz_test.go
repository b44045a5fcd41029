package web
import ("testing";"net/url";"evenstead/demo")
func TestZZ(t *testing.T){ d:=deskOf(t, demo.Quernfold()); h:=deskSite(t,d)
 for _,x:=range [][2]string{{"/stores/dip","barn"},{"/stores/count","potato|fresh|banked store"}} {
 p:=parsePage(t,follow(t,h,x[0],url.Values{"what":{x[1]},"amount":{"18"},"who":{"Rook"}}))
 for _,e:=range p.find("p.wrong"){t.Log(e.words())}
 }
 t.Log(parsePage(t,deskPage(t,h,"/stores")).find("main")[0].words())
}
