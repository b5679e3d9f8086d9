package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Copy is a contract as it was kept beside its agreement: a file or a link.
type Copy struct {
	ID        int64
	Agreement string // its key
	Name      string
	Link      string // empty for a file
	Media     string // media type of a file
	Size      int64  // of a file, in bytes
	Added     time.Time
	By        string // who added it
}

// CopyMost is the largest file that is kept, in bytes, and CopiesMost how many
// copies an agreement may have.
const (
	CopyMost   = 10 << 20
	CopiesMost = 40
)

var (
	// ErrCopyMedia is a file that is none of those that are kept.
	ErrCopyMedia = errors.New("only PDF, PNG, JPEG, HEIC and plain text are kept")
	// ErrCopySize is a file that is empty, or larger than CopyMost.
	ErrCopySize = errors.New("the file is empty or too large")
	// ErrCopyLink is a link that is none to the web.
	ErrCopyLink = errors.New("a link begins with https:// or http://")
	// ErrCopyCount is one copy more than an agreement may have.
	ErrCopyCount = errors.New("the agreement has as many copies as are kept")
)

// AddFile keeps a file beside an agreement of a wedding, given by its id. What
// it is, is told by its first bytes and not by its name.
func (s *Store) AddFile(ctx context.Context, wedding string, c Copy, body []byte, now time.Time) error {
	if len(body) == 0 || len(body) > CopyMost {
		return ErrCopySize
	}
	if c.Media = mediaOf(body); c.Media == "" {
		return ErrCopyMedia
	}
	c.Link, c.Size, c.Name = "", int64(len(body)), fileName(c.Name, c.Media)
	return s.addCopy(ctx, wedding, c, body, now)
}

// AddLink keeps a link beside an agreement of a wedding, given by its id.
func (s *Store) AddLink(ctx context.Context, wedding string, c Copy, now time.Time) error {
	const most = 2000 // characters
	u, err := url.Parse(strings.TrimSpace(c.Link))
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Hostname() == "" || u.User != nil || len(c.Link) > most {
		return ErrCopyLink
	}
	c.Link, c.Media, c.Size = u.String(), "", 0
	if c.Name = plainName(c.Name); c.Name == "" {
		c.Name = u.Hostname()
	}
	return s.addCopy(ctx, wedding, c, nil, now)
}

func (s *Store) addCopy(ctx context.Context, wedding string, c Copy, body []byte, now time.Time) error {
	res, err := s.db.ExecContext(ctx, `insert into contract_copy (wedding, agreement, name, link, media, size, added_at, added_by, body)
		select ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9
		where (select count(*) from contract_copy where wedding = ?1 and agreement = ?2) < ?10`,
		wedding, c.Agreement, c.Name, c.Link, c.Media, c.Size, stamp(now), c.By, body, CopiesMost)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, ErrCopyCount)
	}
	return nil
}

const selectCopy = "select id, agreement, name, link, media, size, added_at, added_by from contract_copy"

func scanCopy(scan func(...any) error, more ...any) (c Copy, err error) {
	var added string
	if err = scan(append([]any{&c.ID, &c.Agreement, &c.Name, &c.Link, &c.Media, &c.Size, &added, &c.By}, more...)...); err != nil {
		return c, err
	}
	c.Added, err = unstamp(added)
	return c, err
}

// Copies are those of a wedding, given by its id, the newest first.
func (s *Store) Copies(ctx context.Context, wedding string) ([]Copy, error) {
	rows, err := s.db.QueryContext(ctx, selectCopy+" where wedding = ? order by id desc", wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Copy
	for rows.Next() {
		c, err := scanCopy(rows.Scan)
		if err != nil {
			return nil, err
		}
		all = append(all, c)
	}
	return all, rows.Err()
}

// File is a file that was kept beside an agreement, with its bytes; ErrUnknown
// where there is none.
func (s *Store) File(ctx context.Context, wedding, agreement string, id int64) (c Copy, body []byte, err error) {
	row := s.db.QueryRowContext(ctx, strings.Replace(selectCopy, " from", ", body from", 1)+
		" where wedding = ? and agreement = ? and id = ? and body is not null", wedding, agreement, id)
	c, err = scanCopy(row.Scan, &body)
	if errors.Is(err, sql.ErrNoRows) {
		err = ErrUnknown
	}
	return c, body, err
}

// DropCopy takes a copy away for good; ErrUnknown where there is none.
func (s *Store) DropCopy(ctx context.Context, wedding, agreement string, id int64) error {
	res, err := s.db.ExecContext(ctx, "delete from contract_copy where wedding = ? and agreement = ? and id = ?", wedding, agreement, id)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, ErrUnknown)
	}
	return nil
}

// heic are the brands of HEIF images (ISO/IEC 23008-12, annex B).
var heic = []string{"heic", "heix", "heim", "heis", "mif1"}

// ends are the endings of names of files that are kept, by media type.
var ends = map[string][]string{
	"application/pdf":           {".pdf"},
	"image/png":                 {".png"},
	"image/jpeg":                {".jpg", ".jpeg"},
	"image/heic":                {".heic", ".heif"},
	"text/plain; charset=utf-8": {".txt", ".md", ".text"},
}

// mediaOf is the media type of a file by its content, or empty where it is
// none that is kept.
func mediaOf(body []byte) string {
	if len(body) > 12 && string(body[4:8]) == "ftyp" && slices.Contains(heic, string(body[8:12])) {
		return "image/heic"
	}
	media := http.DetectContentType(body)
	if ends[media] == nil || strings.HasPrefix(media, "text/") && !utf8.Valid(body) {
		return ""
	}
	return media
}

// fileName is a name that a file can be saved by, with an ending that says
// what is in it.
func fileName(name, media string) string {
	name = plainName(path.Base(strings.ReplaceAll(name, `\`, "/")))
	if strings.Trim(name, ". ") == "" {
		name = "contract"
	}
	end := strings.ToLower(path.Ext(name))
	if !slices.Contains(ends[media], end) {
		name += ends[media][0]
	}
	return name
}

// plainName is a name in one line, without characters that are not seen.
func plainName(name string) string {
	const most = 100
	name = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if !unicode.IsGraphic(r) || r == utf8.RuneError {
			return -1
		}
		return r
	}, name)), " ")
	if r := []rune(name); len(r) > most {
		name = string(r[len(r)-most:]) // its ending stays
	}
	return name
}

// SizeWords is the size of a file as people read it: 340 KB.
func (c Copy) SizeWords() string {
	const kb, mb = 1 << 10, 1 << 20
	if c.Size >= mb {
		return fmt.Sprintf("%.1f MB", float64(c.Size)/mb)
	}
	return fmt.Sprintf("%d KB", (c.Size+kb-1)/kb)
}
