package main

type exportCmd struct {
	Name    string `arg:"" help:"Name of a stored wedding."`
	Version int    `help:"An older version than the newest." placeholder:"N"`
}

// Run writes the stored plan with its id, its version and every key.
func (c *exportCmd) Run(e *env) error {
	s, doc, err := e.wedding(c.Name)
	if err != nil {
		return err
	}
	defer s.Close()
	if c.Version != 0 {
		if doc, err = e.version(s, c.Name, c.Version); err != nil {
			return err
		}
	}
	text, err := doc.Text()
	if err != nil {
		return err
	}
	_, err = e.out.Write(text)
	return err
}
