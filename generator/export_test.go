package generator

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
