// A site file that begins with which edit is made in it: what edited_text() gives is the site that
// edited_site() makes.
#include "linkmargin/linkmargin.hpp"

#include "small_site.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

namespace {

using linkmargin::Edit;
using linkmargin::Site;

/// An edit of a radio by a letter: which one, and what of it.
template <typename Radio>
std::vector<Edit> of_radio(const std::string& section, const std::vector<Radio>& radios, unsigned letter) {
  if (radios.empty()) return {};
  const Radio& radio = radios[letter / 8 % radios.size()];
  const std::string path = "/" + section + "/" + linkmargin::pointer_token(radio.name);
  switch (letter % 8) {
    case 0:
      return {{path, linkmargin::Removal{}}};
    case 1:
      return {{path + "/mount", linkmargin::Removal{}}};
    case 2:
      return {{path + "/at_m", radio.place.at + linkmargin::Point2{0.25, -0.5}}};
    case 3:
      return {{path + "/height_m", 1.25}};
    case 4:
      return {{path + "/at_m", radio.place.at + linkmargin::Point2{-0.1, 0.1}}, {path + "/height_m", 0.5}};
    case 5:
      return {{path + "/mount/gap_m", 0.03}};
    case 6:
      return {{path + "/profile", radios.front().profile}};
    default:
      return {{"/" + section + "/new: one",
               linkmargin::NewRadio{radio.profile, "ground", radio.place.at, radio.place.height_m}}};
  }
}

std::vector<Edit> edits_by(const Site& site, unsigned letter) {
  switch (letter % 3) {
    case 0:
      return of_radio("hubs", site.hubs, letter / 3);
    case 1:
      return of_radio("repeaters", site.repeaters, letter / 3);
    default:
      return of_radio("devices", site.devices, letter / 3);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  if (size < 1) return 0;
  const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
  const auto site = parse_site(text, "fuzz.yaml", embedded_tables());
  if (!site || !is_small(*site, 24, 8)) return 0;
  const std::vector<Edit> edits = edits_by(*site, data[0]);
  const auto written = edited_text(text, "fuzz.yaml", edits, embedded_tables());
  if (!written) return 0;
  const auto wanted = edited_site(*site, edits);
  const auto read = parse_site(*written, "fuzz.yaml", embedded_tables());
  if (!wanted || !read || *wanted != *read) std::abort();
  return 0;
}
