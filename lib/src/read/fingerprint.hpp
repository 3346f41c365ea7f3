#pragma once

#include <toml++/toml.h>

#include <string>

namespace twoturn::reading {

/// Sixteen hexadecimal digits that tell one profile's meaning from another's: every key and value,
/// whatever its spacing, comments, order of keys or unit of length; [origin] and [example] left
/// out, for where a number comes from does not change what it says. FNV-1a, 64 bit: it tells
/// profiles apart and proves nothing.
std::string fingerprint(const toml::table& tree);

}  // namespace twoturn::reading
