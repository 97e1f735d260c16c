#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/serving/place_levels.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/write_csv.hpp"

#include <span>
#include <string>

namespace linkmargin {

/// The answer of `check --at` for people: a row a place, in the order of the list.
/// @param levels  of places, as many
Document places_document(const Language& language, const Site& site, std::span<const Device> places,
                         std::span<const PlacePrediction> levels);

/// The same as CSV, made row by row: a list may be long.
std::string places_csv(const Site& site, std::span<const Device> places,
                       std::span<const PlacePrediction> levels, const CsvStyle& style = {});

/// The keys of docs/commands/check.md.
std::string places_json(const Site& site, std::span<const Device> places,
                        std::span<const PlacePrediction> levels);

}  // namespace linkmargin
