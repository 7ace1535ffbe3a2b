package generator

import (
	"sheaf/generator/booklet"
	"sheaf/generator/layout"
)

// Book is the booklet composed.
func (p *Proof) Book() *booklet.Book { return p.press.book() }

// BookletForm is how booklet.pdf is set.
func (p *Proof) BookletForm() layout.Form {
	return layout.Booklet(p.press.theme, p.press.letter)
}

// LargeForm is how booklet-large.pdf is set, with what was chosen for the booklet.
func (p *Proof) LargeForm(chosen map[string]uint64) layout.Form {
	return layout.Large(p.press.theme, p.press.letter, chosen)
}

// Laid are the pages of a form, not painted.
func (p *Proof) Laid(form layout.Form) *layout.Pages {
	pages, _ := layout.Lay(p.press.book(), p.press.theme, form)
	return pages
}

// OnChange has a test called before each change that gives the files their places
// or takes old ones away. If the test fails it the change is not made.
func (o *Output) OnChange(before func() error) {
	rename, remove := o.rename, o.remove
	o.rename = func(from, to string) error {
		if err := before(); err != nil {
			return err
		}
		return rename(from, to)
	}
	o.remove = func(name string) error {
		if err := before(); err != nil {
			return err
		}
		return remove(name)
	}
}

// Abandon leaves the folder as a process does that is stopped: the system takes
// back the lock and the open files, and nothing is cleared up.
func (o *Output) Abandon() {
	o.closed()
	o.root.Close()
	o.lock.file.Unlock()
}
