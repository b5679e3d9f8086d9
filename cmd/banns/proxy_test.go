package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"math/big"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestReadmeProxy runs nginx with the README's own configuration, but for
// ports and paths, in front of the server, and fetches a feed over TLS.
func TestReadmeProxy(t *testing.T) {
	if _, err := exec.LookPath("nginx"); err != nil {
		missing(t, "nginx is not installed: apt-get install nginx-light")
	}
	c := start(t, "demo", "--listen", "127.0.0.1:0")
	said := c.until(t, "The store is temporary")
	inside := regexp.MustCompile(`http://(127\.0\.0\.1:\d+)(/c/\S+\.ics)`).FindStringSubmatch(said)
	get(t, inside[0], "")

	dir, outside := t.TempDir(), freePort(t)
	trusted := certificate(t, dir)
	site := strings.NewReplacer(
		"listen 443 ssl", "listen "+outside+" ssl",
		"/etc/ssl", dir,
		"127.0.0.1:8470", inside[1],
	).Replace(fenced(readme(t), "nginx")[0])
	write(t, filepath.Join(dir, "nginx.conf"), fmt.Sprintf(`daemon off;
pid %[1]s/nginx.pid;
error_log %[1]s/error.log;
events {}
http {
    access_log %[1]s/access.log;
    client_body_temp_path %[1]s/body;
    proxy_temp_path %[1]s/proxy;
    fastcgi_temp_path %[1]s/fastcgi;
    uwsgi_temp_path %[1]s/uwsgi;
    scgi_temp_path %[1]s/scgi;
%[2]s}
`, dir, site))
	nginx := exec.Command("nginx", "-c", filepath.Join(dir, "nginx.conf"), "-e", filepath.Join(dir, "error.log"))
	if err := nginx.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { nginx.Process.Signal(os.Interrupt); nginx.Wait() }()

	browser := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted, ServerName: "dates.example.org"}}}
	var body []byte
	eventually(t, func() bool {
		resp, err := browser.Get("https://" + outside + inside[2])
		if err != nil {
			return false
		}
		defer resp.Body.Close()
		body, err = io.ReadAll(resp.Body)
		return err == nil && resp.StatusCode == http.StatusOK
	})
	if !strings.HasPrefix(string(body), "BEGIN:VCALENDAR\r\n") {
		t.Errorf("over TLS comes %.80q", body)
	}
	deskForm(t, browser, "https://"+outside, regexp.MustCompile(`/desk/door/\S+`).FindString(said))
	for _, name := range []string{"access.log", "error.log"} {
		log, _ := os.ReadFile(filepath.Join(dir, name))
		if strings.Contains(string(log), strings.TrimPrefix(inside[2], "/c/")) {
			t.Errorf("%s holds the address:\n%s", name, log)
		}
	}
	c.stop(t)
}

// deskForm sends a form of the desk through the proxy, as a browser does that
// tells nothing of where it was but Origin: the proxy has to keep the Host.
func deskForm(t *testing.T, browser *http.Client, outside, door string) {
	t.Helper()
	once := &http.Client{Transport: browser.Transport, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	ask := func(method, path, origin string, cookies []*http.Cookie) *http.Response {
		req, err := http.NewRequest(method, outside+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Host = "dates.example.org"
		req.Header.Set("Origin", origin)
		for _, c := range cookies {
			req.AddCookie(c)
		}
		res, err := once.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		return res
	}
	signedIn := ask(http.MethodGet, door, "", nil).Cookies()
	for origin, want := range map[string]int{"https://dates.example.org": http.StatusSeeOther, "https://example.org": http.StatusForbidden} {
		if res := ask(http.MethodPost, "/desk/w/maren-and-theo/people/priya/link/new", origin, signedIn); res.StatusCode != want {
			t.Errorf("a form from %s is answered with %d, want %d", origin, res.StatusCode, want)
		}
	}
}

// certificate writes the key pair that the README's configuration names, and
// returns who trusts it.
func certificate(t *testing.T, dir string) *x509.CertPool {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	form := &x509.Certificate{
		SerialNumber: big.NewInt(1), DNSNames: []string{"dates.example.org"}, IsCA: true, BasicConstraintsValid: true,
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
	}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	public := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	write(t, filepath.Join(dir, "dates.example.org.pem"), string(public))
	write(t, filepath.Join(dir, "dates.example.org.key"), string(pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})))
	pool := x509.NewCertPool()
	pool.AppendCertsFromPEM(public)
	return pool
}
