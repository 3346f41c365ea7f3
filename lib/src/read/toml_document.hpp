// What every kind of text that is read begins and ends with.
#pragma once

#include <toml++/toml.h>

#include <string>
#include <string_view>
#include <vector>

#include "toml_text.hpp"
#include "twoturn/base/problem.hpp"

namespace twoturn::reading {

/// Throws the problems as an InputError, in the order of the file; what has no place in it (--set)
/// comes last. Of more than `kMostProblems` the first ones.
[[noreturn]] void refuse(std::vector<Problem> problems, const std::string& name);

/// The text as a tree, or all that keeps it from being one thrown as an InputError.
toml::table parsed(std::string_view text, const toml_text::Lines& lines, const std::string& name);

}  // namespace twoturn::reading
