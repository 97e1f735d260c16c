#pragma once

#include "linkmargin/report/document.hpp"

#include <string>

namespace linkmargin {

/// A table as RFC 4180 gives it: a row of column keys, lines that end in CRLF, quotes where a value needs
/// them. Numbers have up to 12 decimals; a number that is not finite, or not known, is empty.
std::string write_csv(const Table& table);

}  // namespace linkmargin
