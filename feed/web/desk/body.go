package desk

import (
	"io"
	"net/http"
)

// A browser shows an answer only once all that it sends has been taken. So the
// rest of a file that is too long is read and thrown away, up to restMost: what
// is longer than that is cut off without a word.
const restMost = 200 << 20

// fileBody is a request's body that carries a file. Past the most that is
// taken, reading it fails.
type fileBody struct {
	io.ReadCloser
	most, left int64
}

func newFileBody(body io.ReadCloser, most int64) *fileBody { return &fileBody{body, most, most} }

func (b *fileBody) Read(p []byte) (int, error) {
	if b.left == 0 {
		n, err := io.Copy(io.Discard, io.LimitReader(b.ReadCloser, restMost))
		switch {
		case err != nil:
			return 0, err
		case n == 0:
			return 0, io.EOF
		}
		b.left = -1
	}
	if b.left < 0 {
		return 0, &http.MaxBytesError{Limit: b.most}
	}
	n, err := b.ReadCloser.Read(p[:min(int64(len(p)), b.left)])
	b.left -= int64(n)
	return n, err
}
