// Package compression measures what JPEG compression did to a picture.
//
// It is a pure measuring package: it knows neither cards nor limits of the craft, and
// gives no verdicts. Light is told in levels of 255.
//
// # How an earlier save is found
//
// JPEG (ITU-T T.81) cuts a picture into blocks of 8 × 8 pixels and keeps the cosine
// coefficients of each in whole steps. The file may be gone, but as long as nobody
// resized the picture, two things stay in its pixels. The light jumps more often at
// the borders of blocks than beside them; that tells where the grid of blocks lies.
// And the coefficients of these blocks, and of no others, still lie near whole
// multiples of the steps: that tells the quality. The second is what proves a save, for
// art has patterns of 8 pixels too.
//
// # How damage is measured
//
// Blocks: how far the light jumps from block to block beyond how it runs on both sides,
// where these are calm; less what the same measure finds beside the grid.
// Specks, which engineers call ringing or mosquito noise: how far the ground beside
// type and hard edges strays from the same ground one block further out. Neither is
// taken for more than the steps of the table can do.
//
// Not found: damage in a picture that was resized afterwards, unless by its own JPEG
// file's table; an earlier save of inks, whose lightness is no channel of that file; an
// earlier save by tables whose shape is far from the standard's (by a fifth is near);
// damage in a part of the picture with most of the detail elsewhere; blocks in skies and
// gradients alone, which leave too few kinds of coefficients to prove a save.
package compression
