#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "fixtures/mutated_text.hpp"
#include "fixtures/readings_fixture.hpp"
#include "fixtures/sheet_writing.hpp"

#include <algorithm>
#include <set>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kSeed = 30;
constexpr std::uint64_t kRuns = 4000;

struct Tally {
  int sound = 0;
  int faulty = 0;
  std::set<std::string> messages;
};

/// Either readings of devices that are there, or faults, each with its place inside the text, in order and
/// once.
void look_at(const std::string& text, std::uint64_t run, Tally& tally) {
  CAPTURE(run);
  const auto readings = parse_readings(text, "m", pottery());
  if (readings) {
    ++tally.sound;
    REQUIRE_FALSE(readings->readings.empty());
    for (const Reading& reading : readings->readings) {
      CHECK_FALSE(reading.device.empty());
      CHECK(reading.percent.has_value() != reading.level.has_value());
      CHECK(reading.line > 1);
    }
    return;
  }
  ++tally.faulty;
  const auto lines =
      std::ranges::count_if(text, [](char letter) { return letter == '\n' || letter == '\r'; });
  check_faults_in_place(readings.error(), tally.messages);
  for (const Diagnostic& fault : readings.error()) CHECK(fault.line <= lines + 1);
}

/// Up to four bytes changed, put in or taken out.
std::string mutated(std::string text, const RandomStream& random) {
  // Half of the bytes are those with a meaning, which random ones seldom hit.
  constexpr std::string_view marks = ",\"\n\r;\t -.09eE%='\xA0";
  const std::size_t changes = 1 + below(random, 0, 4);
  for (std::uint64_t i = 0; i < changes; ++i) {
    const std::size_t place = below(random, 8 * i + 1, text.size());
    const char byte = random.uniform(8 * i + 2) < 0.7 ? marks[below(random, 8 * i + 3, marks.size())]
                                                      : static_cast<char>(below(random, 8 * i + 3, 256));
    const double what = random.uniform(8 * i + 4);
    if (what < 0.5) {
      text[place] = byte;
    } else if (what < 0.8) {
      text.insert(place, 1, byte);
    } else {
      text.erase(place, 1);
    }
  }
  return text;
}

/// The demo readings as they stand, and in two writings of spreadsheets.
std::vector<std::string> texts() {
  const auto read = parse_readings(demo_readings_text(), "r", pottery());
  REQUIRE(read);
  const std::vector<Reading>& demo = read->readings;
  const Writing semicolons{
      .separator = ';', .decimal = ',', .line_end = "\r\n", .units = true, .extras = true};
  const Writing wide_tabs{.separator = '\t', .wraps = true};
  return {demo_readings_text(), written(demo, semicolons),
          utf16_bytes(wide(written(demo, wide_tabs)), false)};
}

}  // namespace

TEST_CASE("changed bytes give readings or faults with a place") {
  for (const std::string& text : texts()) {
    Tally tally;
    for (std::uint64_t run = 0; run < kRuns; ++run)
      look_at(mutated(text, RandomStream(kSeed, run)), run, tally);
    MESSAGE(tally.sound << " sound, " << tally.faulty << " faulty, " << tally.messages.size()
                        << " different messages");
    CHECK(tally.sound > 100);
    CHECK(tally.faulty > 1000);
    CHECK(tally.messages.size() > 200);
  }
}

TEST_CASE("a file cut off anywhere gives readings or faults with a place") {
  for (const std::string& text : texts()) {
    Tally tally;
    for (std::size_t size = 0; size < text.size(); ++size) look_at(text.substr(0, size), size, tally);
    MESSAGE(tally.sound << " sound, " << tally.faulty << " faulty");
    CHECK(tally.sound > 50);
    CHECK(tally.faulty > 500);
  }
}
