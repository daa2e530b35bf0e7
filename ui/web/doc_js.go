// Package web hands the view to a browser; there is nothing of it inside the browser itself.
package web
