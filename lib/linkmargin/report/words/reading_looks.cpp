#include "linkmargin/report/words/reading_looks.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// The other hub whose predicted reading is nearest to the one taken; null where there is no other.
const Link* nearest_other(const LinkTable& table, const Link& link, double percent) {
  const Link* nearest = nullptr;
  const auto off = [&](const Link& other) { return std::abs(other.lower().reading_percent - percent); };
  for (const Link& other : table.links) {
    if (other.device != link.device || other.hub == link.hub) continue;
    if (nearest == nullptr || off(other) < off(*nearest)) nearest = &other;
  }
  return nearest;
}

std::string doors_words(Doors doors) {
  return std::string("Doors, shutters and gates: this compares with ") + doors_phrase(doors) +
         ". If one stood otherwise, compare anew with --doors " +
         doors_word(doors == Doors::armed ? Doors::open : Doors::armed) + ", or read again.";
}

}  // namespace

std::vector<std::string> reading_looks(const LinkTable& table, const Link& link,
                                       const ReadingAnswer& answer) {
  std::vector<std::string> texts{
      "The reading itself: a person, a ladder or a vehicle in the way. Step aside and read again.",
      "The battery: old, cold, or its contacts not quite made.", doors_words(table.doors)};
  if (const Link* other = nearest_other(table, link, answer.reading.percent)) {
    const double percent = whole_percent(other->lower().reading_percent, table.reading.weak_below_percent);
    texts.push_back("The enrolment: at hub " + quoted_name(other->hub) + " it should read about " +
                    fixed_text(percent, 0) + " %, so see which hub it is enrolled to.");
  } else {
    texts.emplace_back("The enrolment: whether this is the device that the reading is shown for.");
  }
  texts.emplace_back(
      "Metal close before, behind or beside device or hub: a frame, a foil, a pipe, a cable tray, a cabinet. "
      "What "
      "hangs on metal is told in the site file (mount).");
  texts.emplace_back(
      "The antennas at both ends: bent, folded, shut in by the lid, or turned otherwise than meant.");
  texts.emplace_back(
      "The plan: a wall of other stuff or thicker than written, a lift, a tank, goods or machines that came "
      "later.");
  return texts;
}

}  // namespace linkmargin
