package web

import (
	"net/http"
	"strings"
)

// policy allows our own style sheet, mark and manifest, and nothing else: no inline
// style or script, no frame. Where there is something to write to, forms and our own
// script and worker, which ask nobody but us.
func policy(writes bool) string {
	parts := []string{
		"default-src 'none'", "style-src 'self'", "img-src 'self'", "manifest-src 'self'",
		"base-uri 'none'", "frame-ancestors 'none'",
	}
	if writes {
		return strings.Join(append(parts, "form-action 'self'", "script-src 'self'", "worker-src 'self'", "connect-src 'self'"), "; ")
	}
	return strings.Join(append(parts, "form-action 'none'"), "; ")
}

// secure sets the headers that every answer carries.
func secure(next http.Handler, policy string) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-cache, private")
		next.ServeHTTP(w, r)
	})
}
