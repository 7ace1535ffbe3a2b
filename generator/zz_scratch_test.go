package generator_test
import ("testing";"testing/fstest";"fmt";"sheaf/generator";"image/color";bk "sheaf/generator/booklet";"sheaf/generator/layout";"sheaf/generator/theme";"sheaf/themes";"os")
func TestScratchPhotos(t *testing.T){
 files,_:=themes.Shipped("fieldbook"); th,_,_:=theme.Load(files)
 for _,size:=range [][2]int{{0,0},{1500,1000},{1000,1500},{2000,1000}} {
  o:=moved(t)
  p,_,err:=generator.Check(o); if err!=nil{t.Fatal(err)}
  if size[0]>0 {
   g:=o.Garden.(fstest.MapFS)
   y:=string(g["garden.yaml"].Data)+"\nphotos:\n"
   seen:=map[string]bool{}
   for i:=range p.Plantings{ n:=p.Plantings[i].Called().Plain(); if seen[n]{continue}; seen[n]=true
     y+=fmt.Sprintf("  - {plant: %q, file: a.jpg, credit: A. Member, alt: Tall golden oats against a dark hedge in the long border}\n",n)}
   g["garden.yaml"]=&fstest.MapFile{Data:[]byte(y)}
   g["photos/a.jpg"]=&fstest.MapFile{Data:snapshot(t,size[0],size[1],color.RGBA{80,120,60,255})}
   p,_,err=generator.Check(o); if err!=nil{t.Fatal(err)}
  }
  b:=bk.Compose(bk.Input{Input:p.Input,Calendar:p.Calendar,Theme:th})
  for name,form:=range map[string]layout.Form{"a5":layout.Booklet(th,false),"half":layout.Booklet(th,true),"large":layout.Large(th,false)} {
  pages,_:=layout.Lay(b,th,form)
  hist:=map[int]int{}
  cur:=""; n:=0; notes:=0
  at:=map[string]int{}
  order:=[]string{}
  for i,pg:=range pages.Pages{for _,it:=range pg.Items{ if a,ok:=it.(layout.Anchor);ok{ at[a.ID]=i; order=append(order,a.ID)}
    if x,ok:=it.(layout.Text);ok&&x.String=="Notes"{notes++}}}
  _=cur;_=n
  for i,id:=range order{ s:=b.Find(id); if s==nil||s.Kind!=bk.Plant{continue}
    end:=len(pages.Pages); if i+1<len(order){end=at[order[i+1]]}
    hist[end-at[id]]++ }
  t.Log(size,name,len(pages.Pages),"pages; plants by pages to the next anchor",hist)
  }
  if d:=os.Getenv("OUT");d!=""&&size[0]>0{ o.Editions=[]string{"web","a5","large"}; r:=build(t,o); r.WriteTo(fmt.Sprintf("%s/%dx%d",d,size[0],size[1]))}
 }
}
