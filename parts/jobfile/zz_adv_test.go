package jobfile
import ("testing";"strings";"time";"fmt";"os")
func TestAdv(t *testing.T){
 n:=4<<20
 if os.Getenv("ADVN")!="" { fmt.Sscan(os.Getenv("ADVN"),&n) }
 rep:=func(s string) string { return strings.Repeat(s, n/len(s)) }
 ks:=func() string { var b strings.Builder; for i:=0;b.Len()<n-20;i++ { fmt.Fprintf(&b,"k%d: 1\n",i)}; return b.String()}
 for _,c:=range []struct{n,s string}{
  {"lines",rep("- a: 1\n")},{"keys",ks()},{"onestr","job: "+rep("x")},{"quoted","job: \""+rep("x")+"\""},{"quotedopen","job: \""+rep("x")},
  {"spaces","job: "+rep(" ")+"x"},{"newlines","job: "+rep("\n")+"x"},{"multistr","job: a\n"+rep(" b\n")},{"literal","job: |\n"+rep(" b\n")},
  {"comment",rep("# a\n")+"job: x"},{"flowlist","a: ["+rep("1,")+"1]"},{"flowmap","a: {"+rep("a: 1,")+"}"},{"colons",rep("a: ")},{"commas",rep(",")},{"amps",rep("&a ")},{"stars",rep("*a ")},{"bang",rep("!a ")},{"docs",rep("---\n")},{"esc","a: \""+rep("\\n")+"\""},
  {"quest",rep("? ")},{"dash",rep("- ")},{"pipe",rep("|\n")},{"path","job: a\nmaterials: [{name: a, thickness: 1}]\nstock: [{name: a, length: 1, width: 1, trim: 0}]\npanels: [{name: a, outline: {path: \"M0 0"+rep("h1")+"\"}}]"},
 }{
  if os.Getenv("ADV")!="" && os.Getenv("ADV")!=c.n {continue}
  if len(c.s)>n {c.s=c.s[:n]}
  st:=time.Now()
  j,l:=Read("x",[]byte(c.s))
  e:=l.Error(); if len(e)>120 {e=e[:120]}
  fmt.Println(c.n,len(c.s),time.Since(st),j!=nil,e)
 }
}
