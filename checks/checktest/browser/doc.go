// Package browser opens pages in a headless browser and looks at them as their
// readers do: at a width, in light or dark, with a mouse, with the keyboard alone, on
// paper, and with the eyes of an accessibility audit. Every complaint of the page's
// console is a failure of the test.
package browser
