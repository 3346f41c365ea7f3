// The one way into Catch2: version 2 and version 3 alike.
#pragma once

#include <string>

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& text) { return Catch::Matchers::Contains(text); }
#endif

using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
