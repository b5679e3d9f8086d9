package store
import ("testing";"os";"fmt";"banns/milestones")
func TestX(t *testing.T){
 b,_:=os.ReadFile("../testdata/plans/maren-and-theo.yaml")
 d,err:=ReadPlan("plan.yaml",b)
 if err!=nil {t.Fatal(err)}
 for _,n:=range d.Notes {fmt.Println("NOTE",n)}
 for _,i:=range milestones.Schedule(d.Plan, milestones.NoClosures{}) {
   fmt.Printf("%-24s %-11s %v %v act %v %-12s %-30s | %s | %s\n", i.ID, i.Kind, i.Date.Words(), i.Clock, i.ActBy, i.Shut, d.Plan.Wedding.Currency.Range(i.Amount)+" > "+d.Plan.Wedding.Currency.Range(i.Later), i.Title, i.WaitsFor)
 }
 for _,q:=range milestones.Questions(d.Plan, milestones.NoClosures{}) {fmt.Println("Q",q.Path,q.Says)}
}
