// Reading all of a file, or of standard input.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace twoturn::cli {

/// How large a file of one kind may be; more is not read.
struct SizeLimit {
  std::size_t bytes;
  std::string_view refusal;
};

inline constexpr SizeLimit kProfileSize{
    4'000'000, "is larger than 4 MB; a profile is a few kB of text. Is it the right file?"};
// A table of 100,000 points is larger than any profile.
inline constexpr SizeLimit kReadingsSize{32'000'000, "is larger than 32 MB; is it the right file?"};

/// All of a file's text; of standard input where the path is "-". Throws InputError.
std::string read_file(const std::string& path, const SizeLimit& limit);

}  // namespace twoturn::cli
