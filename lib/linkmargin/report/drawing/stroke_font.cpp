#include "linkmargin/report/drawing/stroke_font.hpp"

#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// On a grid of our own: capitals from row 0 to the baseline, row 7; small letters from row 2, descenders to
/// row 9. Strokes are separated by blanks; each is a run of column and row digits.
struct Glyph {
  char32_t letter;
  int width;  ///< columns
  const char* strokes;
};

constexpr double kUnitEm = 0.104;
constexpr double kGapUnits = 1.7;
constexpr int kBaseline = 7;
constexpr double kBlankUnits = 3;

constexpr Glyph kLacking{0, 4, "0040470700"};

constexpr Glyph kGlyphs[] = {
    {U'0', 4, "103041463717060110"},
    {U'1', 2, "022027"},
    {U'2', 4, "01103041420747"},
    {U'3', 4, "01103041423313 334446371706"},
    {U'4', 4, "37300545"},
    {U'5', 4, "4000033344463707"},
    {U'6', 4, "30100106173746443303"},
    {U'7', 4, "004017"},
    {U'8', 4, "13020110304142331304061737464433"},
    {U'9', 4, "44140301103041463717"},
    {U'A', 4, "072047 1535"},
    {U'B', 4, "00073746443303 3342413000"},
    {U'C', 4, "4130100106173746"},
    {U'D', 4, "00073746413000"},
    {U'E', 4, "40000747 0333"},
    {U'F', 4, "400007 0333"},
    {U'G', 4, "41301001061737464424"},
    {U'H', 4, "0007 4047 0343"},
    {U'I', 0, "0007"},
    {U'J', 3, "3036271706"},
    {U'K', 4, "0007 4004 1347"},
    {U'L', 4, "000747"},
    {U'M', 6, "0700356067"},
    {U'N', 4, "07004740"},
    {U'O', 5, "104051564717060110"},
    {U'P', 4, "07003041433404"},
    {U'Q', 5, "104051564717060110 3557"},
    {U'R', 4, "07003041433404 2447"},
    {U'S', 4, "413010010213334446371706"},
    {U'T', 4, "0040 2027"},
    {U'U', 4, "000617374640"},
    {U'V', 4, "002740"},
    {U'W', 6, "0017325760"},
    {U'X', 4, "0047 4007"},
    {U'Y', 4, "002440 2427"},
    {U'Z', 4, "00400747"},
    {U'a', 4, "4247 4332120306173746"},
    {U'b', 4, "0007 0312324346371706"},
    {U'c', 4, "4332120306173746"},
    {U'd', 4, "4047 4332120306173746"},
    {U'e', 4, "05454332120306173746"},
    {U'f', 2, "201117 0222"},
    {U'g', 4, "4248391908 4332120306173746"},
    {U'h', 4, "0007 0312324347"},
    {U'i', 0, "0207 0000"},
    {U'j', 1, "121809 1010"},
    {U'k', 3, "0007 3205 1437"},
    {U'l', 1, "000617"},
    {U'm', 6, "0207 0312223337 3342526367"},
    {U'n', 4, "0207 0312324347"},
    {U'o', 4, "123243463717060312"},
    {U'p', 4, "0209 0312324346371706"},
    {U'q', 4, "4249 4332120306173746"},
    {U'r', 2, "0207 031222"},
    {U's', 3, "3322120336271706"},
    {U't', 2, "101627 0222"},
    {U'u', 4, "0206173746 4247"},
    {U'v', 4, "022742"},
    {U'w', 6, "0227334762"},
    {U'x', 3, "0237 3207"},
    {U'y', 4, "0227 421909"},
    {U'z', 3, "02320737"},
    {U'.', 0, "0707"},
    {U',', 1, "1708"},
    {U':', 0, "0303 0707"},
    {U';', 1, "1313 1708"},
    {U'-', 2, "0424"},
    {U'\u2013', 4, "0444"},
    {U'\u2212', 4, "0444"},
    {U'+', 4, "0444 2226"},
    {U'=', 4, "0343 0545"},
    {U'/', 2, "2007"},
    {U'(', 1, "10020618"},
    {U')', 1, "00121608"},
    {U'[', 2, "20000727"},
    {U']', 2, "00202707"},
    {U'%', 5, "0020220200 3555573735 5007"},
    {U'\'', 0, "0002"},
    {U'\u2018', 0, "0002"},
    {U'\u2019', 0, "0002"},
    {U'\u201C', 2, "0002 2022"},
    {U'\u201D', 2, "0002 2022"},
    {U'\u201E', 2, "0608 2628"},
    {U'\u2014', 5, "0454"},
    {U'"', 2, "0002 2022"},
    {U'!', 0, "0005 0707"},
    {U'?', 3, "01102031321415 1717"},
    {U'&', 4, "4712112031320506172745"},
    {U'<', 4, "410447"},
    {U'>', 4, "014407"},
    {U'#', 4, "1017 3037 0242 0545"},
    {U'*', 4, "2125 0244 4204"},
    {U'|', 0, "0008"},
    {U'_', 4, "0848"},
    {U'\u00D7', 3, "0336 3306"},
    {U'\u00B0', 2, "0020220200"},
    {U'\u00B7', 0, "0404"},
    {U'\u2026', 4, "0707 2727 4747"},
};

/// The letters U+00C0 to U+00FF without their accents.
constexpr std::string_view kPlain = "AAAAAAACEEEEIIIIDNOOOOO*OUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";

const Glyph& glyph_of(char32_t letter) {
  if (letter >= 0xC0 && letter <= 0xFF && letter != 0xD7) {
    letter = static_cast<unsigned char>(kPlain[letter - 0xC0]);
  }
  const auto* const found = std::ranges::find(kGlyphs, letter, &Glyph::letter);
  return found == std::end(kGlyphs) ? kLacking : *found;
}

/// Calls each(glyph, x in units) for every letter. @return where the text ends
template <typename Each>
double set(std::string_view text, Each each) {
  double x = 0;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint next = decode_utf8(text, position);
    position += next.bytes;
    if (next.value == U' ' || next.value == U'\u00A0') {
      x += kBlankUnits;
      continue;
    }
    if (display_width(next.value) == 0) continue;  // marks that combine with the letter before
    const Glyph& glyph = glyph_of(next.value);
    each(glyph, x);
    x += glyph.width + kGapUnits;
  }
  return x;
}

}  // namespace

std::vector<std::vector<Point2>> text_strokes_em(std::string_view text) {
  std::vector<std::vector<Point2>> strokes;
  set(text, [&](const Glyph& glyph, double x) {
    strokes.emplace_back();
    for (const char* at = glyph.strokes; *at != '\0';) {
      if (*at == ' ') {
        strokes.emplace_back();
        ++at;
        continue;
      }
      strokes.back().push_back(
          kUnitEm * Point2{x + kGapUnits / 2 + (at[0] - '0'), static_cast<double>(at[1] - '0' - kBaseline)});
      at += 2;
    }
  });
  return strokes;
}

double stroked_width_em(std::string_view text) {
  return kUnitEm * set(text, [](const Glyph&, double) {});
}

}  // namespace linkmargin
