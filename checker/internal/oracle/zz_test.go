package oracle_test
import ("testing";"context";"fmt";"lampwarden/checker/internal/oracle";"lampwarden/checker/internal/sitegen")
func TestStats(t *testing.T){
 so,oo:=options()
 type k struct{f int; v string}
 h:=map[k]int{}; 
 var big int; st:=map[int]int{}
 for seed:=uint64(1);seed<3000;seed++{ s:=sitegen.Generate(seed,so)
  for i:=range s.Requirements{ r:=&s.Requirements[i]; res,_:=oracle.Check(context.Background(),s,r,oo)
   v:=res.Verdict.String(); if res.Run!=nil { n:=0; for _,x:=range res.Run{ if x.Kind!=oracle.Move{n++}}; v+=fmt.Sprint(min(n,6))}
   h[k{int(r.Form),v}]++
   if res.Verdict==oracle.Holds||res.Verdict==oracle.NoWitness{ x:=0; for n:=res.States;n>0;n/=4{x++}; st[x]++; big=max(big,res.States)}
 }}
 for f:=0;f<8;f++{ for _,v:=range []string{"holds","broken1","broken2","broken3","broken4","broken5","broken6","witness1","witness2","witness3","witness4","witness5","witness6","no witness","too big"} { if n:=h[k{f,v}];n>0{fmt.Printf("%d %s %d\n",f,v,n)}}}
 fmt.Println(st,big)
}
