package feed_test
import ("testing";"os";"banns/feed";"fmt")
func TestX(t *testing.T){
 p,items:=demo(t)
 for _,who:=range []string{"bea","june","maren","hanneke","odile","theo"}{
  c:=calendarOf(p,items,who,feed.ByBoth)
  f,_:=os.Create("/tmp/ov/"+who+".txt")
  for _,q:=range c.Published { fmt.Fprintf(f,"%s  %s\n%s\n\n",q.Day(),q.Summary(),q.Text()) }
  f.Close()
  os.WriteFile("/tmp/ov/"+who+".ics",feed.Encode(c),0o644)
 }
}
func BenchmarkEnc(b *testing.B){
 p,items:=demo(b)
 c:=calendarOf(p,items,"maren",feed.ByAlarm)
 b.Log(len(c.Published))
 for b.Loop() { feed.Encode(c) }
}
func BenchmarkView(b *testing.B){
 p,items:=demo(b)
 for b.Loop() { feed.View(p,items,"maren") }
}
