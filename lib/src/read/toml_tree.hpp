#pragma once

#include <toml++/toml.h>

#include <string>
#include <string_view>
#include <vector>

#include "toml_text.hpp"
#include "twoturn/base/problem.hpp"
#include "twoturn/read/profile.hpp"

namespace twoturn::reading {

/// What is wrong where a text stopped being TOML, in plain words.
Problem syntax_problem(const toml::parse_error& error, const toml_text::Lines& lines);

/// A dotted path with every name of an array's table made its number, and lengths under mm:
/// "pulley.cam.diameter_in" -> "pulley.3.diameter_mm". What is not in the tree stays as it is.
std::string by_number(const toml::table& tree, std::string_view path);

/// Puts a setting's value into the tree, making the tables on its way. A path through a list that
/// has no such member is a problem.
std::vector<Problem> apply(const Override& setting, toml::table& tree);

}  // namespace twoturn::reading
