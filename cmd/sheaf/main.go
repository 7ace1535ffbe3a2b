package main

import (
	"fmt"
	"os"
	"time"

	"sheaf/generator"
	"sheaf/generator/source"
)

func main() {
	f, err := generator.Open(os.Args[1])
	if err != nil {
		fmt.Println(err)
		os.Exit(3)
	}
	p, ds, err := generator.Check(generator.Options{Folders: f, Now: time.Now()})
	ds.Print(os.Stderr, source.Style{})
	fmt.Println(err)
	if p != nil && len(os.Args) > 2 {
		for _, t := range p.Calendar.Tasks {
			fmt.Println(t.From, t.To, t.Job.For(t.Planting.Entry.CommonName()), t.Rule.Leave.Value, t.Minutes.Print(), t.Why)
		}
	}
}
