#pragma once

#include "linkmargin/yaml/site_yaml.hpp"
#include "linkmargin/yaml/text_file.hpp"

#include <doctest/doctest.h>

#include <string>

/// The demo site, whose devices the readings of these tests name.
inline const linkmargin::Site& pottery() {
  static const linkmargin::Site site = [] {
    const auto text = linkmargin::read_text_file(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
    REQUIRE(text);
    auto read = linkmargin::parse_site(*text, "kiln-lane.yaml", linkmargin::embedded_tables());
    REQUIRE(read);
    return std::move(*read);
  }();
  return site;
}

inline std::string demo_readings_text() {
  const auto text = linkmargin::read_text_file(LINKMARGIN_DATA "/sites/kiln-lane-readings.csv");
  REQUIRE(text);
  return *text;
}
