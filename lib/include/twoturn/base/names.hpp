#pragma once

#include <string>
#include <string_view>

namespace twoturn {

/// A part's name as a sentence needs it: "the cam" of "cam", of "the cam" and of "The cam"; "a cam"
/// stays.
std::string the(std::string_view name);

/// A name without an article of ours, for "from crank to cam": only a "The" that it brings along
/// gives up its capital.
std::string plain_name(std::string_view name);

/// The text with its first letter a capital, where that is one of a to z.
std::string capital(std::string text);

}  // namespace twoturn
