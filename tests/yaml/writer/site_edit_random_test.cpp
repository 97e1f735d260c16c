#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/random.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSeed = 31;

/// Draws in a row.
class Dice {
 public:
  explicit Dice(std::uint64_t run) : stream_(kSeed, run) {}
  double between(double low, double high) { return low + (high - low) * stream_.uniform(next_++); }
  bool chance(double share) { return between(0, 1) < share; }
  template <typename List>
  const auto& one_of(const List& list) {
    return list[std::min(list.size() - 1,
                         static_cast<std::size_t>(between(0, static_cast<double>(list.size()))))];
  }

 private:
  RandomStream stream_;
  std::uint64_t next_ = 0;
};

const std::vector<std::string> kNewNames{"second", "at the: door", "it's",      "a/b~c",
                                         "yes",    "12",           "say \"x\"", "# 1",
                                         "- dash", "a, b",         "{x} [y]",   "zw\xC3\xB6lf"};

std::string path_to(const std::string& section, const std::string& name) {
  return "/" + section + "/" + pointer_token(name) + "/";
}

Point2 near(Point2 at, Dice& dice) {
  return {at.x + dice.between(-0.4, 0.4), at.y + dice.between(-0.4, 0.4)};
}

/// A figure as a person or an optimiser would give it.
double figure(double low, double high, Dice& dice) {
  const double value = dice.between(low, high);
  return dice.chance(0.7) ? *parse_number(fixed_text(value, 2)) : value;
}

template <typename Radio>
Edit of_radio(const std::string& section, const std::vector<Radio>& radios, const Site& site, Dice& dice) {
  const Radio& radio = dice.one_of(radios);
  const std::string path = path_to(section, radio.name);
  const double what = dice.between(0, 1);
  if (what < 0.3) return {path + "at_m", near(radio.place.at, dice)};
  if (what < 0.6) return {path + "height_m", figure(0.3, 2.3, dice)};
  if (what < 0.8) return {path + "profile", radios.front().profile};
  return {path + "storey", dice.one_of(site.storeys).name};
}

Edit of_device(const Site& site, Dice& dice) {
  const std::string path = path_to("devices", dice.one_of(site.devices).name);
  const double what = dice.between(0, 1);
  if (what < 0.3) return {path + "mount_loss_db", figure(0, 40, dice)};
  if (what < 0.5) return {path + "body_loss_db", figure(0, 40, dice)};
  if (what < 0.75) return {path + "hub", dice.one_of(site.hubs).name};
  return {path + "slots", std::floor(dice.between(0, 9))};
}

Edit of_building(const Site& site, Dice& dice) {
  const Storey& storey = dice.one_of(site.storeys);
  const std::string path = path_to("storeys", storey.name);
  const std::vector<std::string> leaves{"steel door", "timber door", "double glazing", "none"};
  if (dice.chance(0.6) && !storey.openings.empty()) {
    const std::string opening = path + "openings/" + pointer_token(dice.one_of(storey.openings).name) + "/";
    if (dice.chance(0.6)) return {opening + "leaf", dice.one_of(leaves)};
    return {opening + "opens", dice.chance(0.5)};
  }
  if (dice.chance(0.5) && !storey.boundaries.empty()) {
    const auto count = static_cast<double>(storey.boundaries.size());
    const std::string position = shortest_text(std::floor(dice.between(0, count)));
    if (dice.chance(0.5)) return {path + "boundaries/" + position + "/material", "stud wall"};
    return {path + "boundaries/" + position + "/thickness_m", figure(0.05, 0.5, dice)};
  }
  return {path + "outer_wall/thickness_m", figure(0.05, 0.5, dice)};
}

Edit of_site(Dice& dice) {
  const std::vector<Edit> edits{
      {"/radio/frequency_mhz", figure(400, 2500, dice)},    {"/radio/exponent", figure(1.5, 4, dice)},
      {"/radio/model_sigma_db", figure(0, 9, dice)},        {"/radio/diffraction", dice.chance(0.5)},
      {"/radio/reverberation", dice.chance(0.5)},           {"/radio/noise", "business"},
      {"/reading/zero_dbm", figure(-120, -90, dice)},       {"/reading/full_dbm", figure(-80, -20, dice)},
      {"/reading/weak_below_percent", figure(0, 100, dice)}};
  return dice.one_of(edits);
}

Edit added(const Site& site, Dice& dice) {
  const NewRadio radio{site.hubs.front().profile, dice.one_of(site.storeys).name,
                       near(site.hubs.front().place.at, dice), figure(0.3, 2.2, dice)};
  return {(dice.chance(0.5) ? "/hubs/" : "/repeaters/") + pointer_token(dice.one_of(kNewNames)), radio};
}

Calibration learned(Dice& dice) {
  Calibration whole;
  whole.offset_db = figure(-60, 60, dice);
  if (dice.chance(0.5)) whole.offset_sigma_db = figure(0, 30, dice);
  if (dice.chance(0.5)) whole.exponent_sigma = figure(0, 3, dice);
  if (dice.chance(0.5)) whole.readings = static_cast<int>(dice.between(0, 1e6));
  for (const char* material : {"brick", "timber door", "concrete"}) {
    if (dice.chance(0.5)) whole.materials[material] = {figure(-60, 60, dice), figure(0, 30, dice), 0};
  }
  std::vector<LearnedParameter> all = parameters(whole);
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (dice.chance(0.5))
      whole.correlations.push_back({all[i].pointer, all[0].pointer, figure(-0.3, 0.3, dice)});
  }
  return whole;
}

Edit of_calibration(Dice& dice) {
  const std::vector<Edit> edits{{"/calibration", learned(dice)},
                                {"/calibration/offset_db", figure(-60, 60, dice)},
                                {"/calibration/exponent_sigma", figure(0, 3, dice)},
                                {"/calibration/materials/brick/shift_db", figure(-60, 60, dice)},
                                {"/calibration/materials/double glazing/shift_db", figure(-60, 60, dice)}};
  return dice.one_of(edits);
}

Edit any(const Site& site, Dice& dice) {
  const double what = dice.between(0, 1);
  if (what < 0.1) return of_radio("hubs", site.hubs, site, dice);
  if (what < 0.2 && !site.repeaters.empty()) return of_radio("repeaters", site.repeaters, site, dice);
  if (what < 0.4) return of_radio("devices", site.devices, site, dice);
  if (what < 0.6) return of_device(site, dice);
  if (what < 0.65) return of_building(site, dice);
  if (what < 0.7) return of_calibration(dice);
  return what < 0.85 ? of_site(dice) : added(site, dice);
}

/// Lines of one text that the other does not have.
std::size_t lines_only_in(const std::string& text, const std::string& other) {
  const auto sorted_lines = [](const std::string& of) {
    std::vector<std::string> lines;
    std::istringstream stream(of);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    std::ranges::sort(lines);
    return lines;
  };
  std::vector<std::string> only;
  std::ranges::set_difference(sorted_lines(text), sorted_lines(other), std::back_inserter(only));
  return only.size();
}

struct Tally {
  int sites = 0;
  int edits = 0;
  int faulty = 0;
};

/// The edited file is the edited site, no more lines are touched than edits may touch, and the same edits
/// again change nothing; or the edits are refused alike.
void look_at(const std::string& text, const Site& site, Dice& dice, Tally& tally) {
  std::vector<Edit> edits;
  const int count = 1 + static_cast<int>(dice.between(0, 6));
  for (int i = 0; i < count; ++i) edits.push_back(any(site, dice));
  const auto wanted = edited_site(site, edits);
  const auto written = edited_text(text, "f", edits, embedded_tables());
  if (!wanted) {
    ++tally.faulty;
    REQUIRE_FALSE(written);
    CHECK(written.error() == wanted.error());
    return;
  }
  std::string paths;
  for (const Edit& edit : edits) paths += edit.path + "\n";
  CAPTURE(paths);
  INFO(fault_lines(written));
  REQUIRE(written);
  ++tally.sites;
  tally.edits += count;
  CHECK(parse_site(*written, "f", embedded_tables()).value() == *wanted);
  const bool section = std::ranges::any_of(
      edits, [](const Edit& edit) { return std::holds_alternative<Calibration>(edit.value); });
  if (!section || !site.calibration) {
    // The line of a value and the one before that gets a comma; one text of odd_styles.yaml spans three
    // lines.
    CHECK(lines_only_in(text, *written) <= 2 * edits.size() + 1);
    CHECK(std::ranges::count(*written, '#') >= std::ranges::count(text, '#'));
  }
  std::erase_if(edits, [](const Edit& edit) { return std::holds_alternative<NewRadio>(edit.value); });
  const auto again = edited_text(*written, "f", edits, embedded_tables());
  REQUIRE(again);
  CHECK(parse_site(*again, "f", embedded_tables()).value() == *wanted);
}

std::string file(const std::string& path) {
  const auto text = read_text_file(path);
  REQUIRE(text);
  return *text;
}

/// The same site with a byte-order mark and lines that end in CR LF.
std::string with_crlf(const std::string& text) {
  std::string changed = "\xEF\xBB\xBF";
  for (const char letter : text) changed += letter == '\n' ? std::string("\r\n") : std::string(1, letter);
  return changed;
}

}  // namespace

TEST_CASE("random edits of whole files: the text read again is the site edited") {
  std::vector<std::string> texts{
      file(LINKMARGIN_DATA "/sites/kiln-lane.yaml"), file(LINKMARGIN_DATA "/sites/corner-kiosk.yaml"),
      std::string(starter_text()), file(LINKMARGIN_TEST_DATA "/yaml/every_key.yaml"),
      file(LINKMARGIN_TEST_DATA "/yaml/odd_styles.yaml")};
  texts.push_back(with_crlf(texts.back()));
  for (std::size_t which = 0; which < texts.size(); ++which) {
    CAPTURE(which);
    const std::string& text = texts[which];
    const auto site = parse_site(text, "f", embedded_tables());
    REQUIRE(fault_lines(site) == "");
    Tally tally;
    for (std::uint64_t run = 0; run < 150; ++run) {
      CAPTURE(run);
      Dice dice(1000 * which + run);
      look_at(text, *site, dice, tally);
    }
    MESSAGE(tally.sites << " sites of " << tally.edits << " edits, " << tally.faulty << " refused");
    CHECK(tally.sites > 60);
  }
}
