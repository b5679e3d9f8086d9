package desk

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"

	"banns/store"
)

// wholeMost is the most that is read of a form that carries a file, in bytes.
// A browser shows an answer only once all that it sends has been taken. So the
// rest of a file that is too long is read and thrown away, up to that: what is
// longer still is cut off without a word.
const wholeMost = 200 << 20

// strangerMost is that of somebody who is not signed in: enough to come past
// the largest file that would be taken, to what was typed after it.
const strangerMost = store.CopyMost + 1<<20

// fileForm is a form that carries a file, as it was sent.
type fileForm struct {
	text url.Values
	file string // its name; empty where none was chosen
	body []byte // one byte more than is taken where the file is longer
}

// readFileForm reads what was sent without writing it to a disk on the way,
// and most bytes of the file. What came before an error is read.
func readFileForm(r *http.Request, most int64) (f fileForm, err error) {
	f.text = r.PostForm // of a form that carries no file
	parts, err := r.MultipartReader()
	if errors.Is(err, http.ErrNotMultipart) {
		return f, nil
	} else if err != nil {
		return f, err
	}
	f.text = url.Values{}
	left := int64(bodyMost)
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return f, nil
		} else if err != nil {
			return f, err
		}
		if err := f.take(part, &left, most); err != nil {
			return f, err
		}
	}
}

// take takes one part of a form: of texts as much as is left, of a file most.
func (f *fileForm) take(part *multipart.Part, left *int64, most int64) error {
	name := part.FormName()
	if name == "file" {
		f.file = part.FileName()
		body, err := io.ReadAll(io.LimitReader(part, most+1))
		f.body = body
		if err != nil {
			return err
		}
	} else {
		text, err := io.ReadAll(io.LimitReader(part, *left))
		if err != nil {
			return err
		}
		*left -= int64(len(text))
		f.text.Add(name, string(text))
	}
	_, err := io.Copy(io.Discard, part)
	return err
}

// get is a text of the form.
func (f fileForm) get(name string) string { return strings.TrimSpace(f.text.Get(name)) }
