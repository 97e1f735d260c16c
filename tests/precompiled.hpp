// What most tests include, compiled once for all test programs. Each test still includes what it uses.

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <limits>
#include <map>
#include <memory>
#include <numeric>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <vector>
