#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/writer/long_form.hpp"

#include "fixtures/mutated_text.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <utility>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSeed = 20;
constexpr std::uint64_t kRuns = 2000;

struct Tally {
  int sites = 0;
  int faulty = 0;
  std::set<std::string> messages;
};

/// Either a site or faults, each with its line, in order and once.
void look_at(const std::string& text, std::uint64_t run, Tally& tally) {
  CAPTURE(run);
  const auto site = parse_site(text, "m", embedded_tables());
  if (site) {
    ++tally.sites;
    CHECK(site->hubs.size() >= 1);
    CHECK(validate(*site).empty());
    return;
  }
  ++tally.faulty;
  check_faults_in_place(site.error(), tally.messages);
}

std::string text_of(const char* file) {
  auto text = read_text_file(file);
  REQUIRE(text);
  return std::move(text.value());
}

std::string every_key_text() {
  return text_of(LINKMARGIN_TEST_DATA "/yaml/every_key.yaml");
}

/// Where words and numbers stand in a text.
std::vector<std::pair<std::size_t, std::size_t>> words_of(const std::string& text) {
  constexpr std::string_view between = " \n:,[]{}#";
  std::vector<std::pair<std::size_t, std::size_t>> words;
  for (std::size_t end = 0; end < text.size();) {
    const std::size_t begin = text.find_first_not_of(between, end);
    if (begin == std::string::npos) break;
    end = std::min(text.find_first_of(between, begin), text.size());
    words.emplace_back(begin, end - begin);
  }
  return words;
}

}  // namespace

TEST_CASE("one byte changed, put in or taken out gives a site or faults with a line") {
  const std::string text = every_key_text();
  Tally tally;
  for (std::uint64_t run = 0; run < kRuns; ++run) {
    const RandomStream random(kSeed, run);
    std::string changed = text;
    const std::size_t place = below(random, 0, text.size());
    // Half of the bytes are those with a meaning in YAML, which random ones seldom hit.
    constexpr std::string_view marks = ":-,[]{}#&*!|>'\"%@`?~ \n\t.09eE";
    const char byte = random.uniform(1) < 0.5 ? marks[below(random, 2, marks.size())]
                                              : static_cast<char>(below(random, 2, 256));
    const double what = random.uniform(3);
    if (what < 0.6) {
      changed[place] = byte;
    } else if (what < 0.8) {
      changed.insert(place, 1, byte);
    } else {
      changed.erase(place, 1);
    }
    look_at(changed, run, tally);
  }
  MESSAGE(tally.sites << " sites, " << tally.faulty << " faulty, " << tally.messages.size()
                      << " different messages");
  CHECK(tally.sites > 100);
  CHECK(tally.faulty > 1000);
  CHECK(tally.messages.size() > 200);
}

TEST_CASE("a file cut off anywhere gives a site or faults with a line") {
  const std::string text = every_key_text();
  Tally tally;
  for (std::uint64_t run = 0; run < kRuns; ++run) {
    const RandomStream random(kSeed + 1, run);
    look_at(text.substr(0, below(random, 0, text.size())), run, tally);
  }
  MESSAGE(tally.sites << " sites, " << tally.faulty << " faulty");
  CHECK(tally.faulty > 1000);
}

TEST_CASE("one word of a short form put in the place of another gives a site, with a long form, or faults") {
  const std::string text = text_of(LINKMARGIN_TEST_DATA "/fixtures/kiln-lane-short.yaml");
  const auto words = words_of(text);
  Tally tally;
  int long_forms = 0;
  for (std::uint64_t run = 0; run < kRuns; ++run) {
    const RandomStream random(kSeed + 2, run);
    const auto to = words[below(random, 0, words.size())];
    const auto from = words[below(random, 1, words.size())];
    std::string changed = text;
    changed.replace(to.first, to.second, text.substr(from.first, from.second));
    look_at(changed, run, tally);
    const auto whole = long_form(changed, "m", embedded_tables());
    const auto site = parse_site(changed, "m", embedded_tables());
    CHECK(whole.has_value() == site.has_value());
    if (whole) ++long_forms;
  }
  MESSAGE(tally.sites << " sites, " << tally.faulty << " faulty, " << tally.messages.size()
                      << " different messages");
  CHECK(long_forms > 50);
  CHECK(tally.faulty > 1000);
  CHECK(tally.messages.size() > 200);
}
