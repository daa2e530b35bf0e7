package sparse
import ("testing";"underload/solver/internal/harness";"fmt")
func BenchmarkMicro(b *testing.B) {
 for _,n:=range []int{200,1000,5000} {
  c:=newCourse(harness.Random(n,1)); f:=c.f; copy(c.x,c.amps)
  b.Run(fmt.Sprint("fwd",n), func(b *testing.B){ for b.Loop() { f.forward(c.amps) } })
  b.Run(fmt.Sprint("bwd",n), func(b *testing.B){ for b.Loop() { f.backward(c.x) } })
  b.Run(fmt.Sprint("refac",n), func(b *testing.B){ for b.Loop() { f.Refactor(c.net.Siemens) } })
  e:=0
  b.Run(fmt.Sprint("change",n), func(b *testing.B){ for b.Loop() { e=(e+7)%len(c.p.ends); f.Change(e,1); f.Restore() } })
  d:=f.NewDictionary()
  fl:=c.faults(4)
  bb,_:=d.forward(c.volts,fl,0)
  b.Run(fmt.Sprint("dict back",n), func(b *testing.B){ for b.Loop() { d.backward(c.volts,&bb) } })
  b.Run(fmt.Sprint("dict forw",n), func(b *testing.B){ for b.Loop() { bb,_=d.forward(c.volts,fl,0); d.forget(&bb) } })
  fl=c.faults(100000)
  cnt:=0
  for i:=0;i<len(fl);{ var bb lot; bb,i=d.forward(c.volts,fl,i); d.forget(&bb); for _,x:=range bb.exact { if x {cnt++} } }
  b.Log("guarded",cnt,"of",len(fl))
 }
}
