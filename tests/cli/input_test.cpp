#include "support/input.hpp"

#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "support/failure.hpp"

#include <doctest/doctest.h>

#include <cstdio>

using namespace linkmargin;
using namespace linkmargin::cli;

namespace {

Site pottery() {
  const auto text = read_text_file(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
  REQUIRE(text);
  const auto site = parse_site(*text, "kiln-lane.yaml", embedded_tables());
  REQUIRE(site);
  return *site;
}

/// How a file of readings ends the command, and what is said last.
std::pair<ExitStatus, std::string> failure(const std::string& file) {
  try {
    read_readings(file, pottery());
  } catch (const Failure& ended) {
    REQUIRE_FALSE(ended.lines.empty());
    return {ended.status, ended.lines.back()};
  }
  return {kDone, ""};
}

}  // namespace

TEST_CASE("readings are read, or end the command with all their faults") {
  CHECK(read_readings(LINKMARGIN_DATA "/sites/kiln-lane-readings.csv", pottery()).readings.size() == 14);
  const std::string faulty = LINKMARGIN_TEST_DATA "/faults/readings_many.csv";
  CHECK(failure(faulty) == std::pair(kBadInput, "15 faults in " + faulty));
  const auto [status, line] = failure(LINKMARGIN_DATA "/sites/kiln-lane-reading.csv");
  CHECK(status == kNoAccess);
  CHECK(line.find("no such file (did you mean '") != std::string::npos);
  CHECK(failure(LINKMARGIN_DATA).first == kNoAccess);
}

TEST_CASE("the standard input is one file, not two") {
  REQUIRE(std::freopen(LINKMARGIN_DATA "/sites/kiln-lane-readings.csv", "rb", stdin) != nullptr);
  CHECK(read_readings("-", pottery()).readings.size() == 14);
  CHECK(failure("-") ==
        std::pair(kBadInput, std::string("linkmargin: the standard input cannot be two of the files")));
}
