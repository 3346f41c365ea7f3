#include "read_file.hpp"

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>

#include "twoturn/read/profile.hpp"

namespace twoturn::cli {
namespace {

[[noreturn]] void refuse(const std::string& path, const std::string& rule) {
  Problem problem;
  problem.file = path == "-" ? "standard input" : path;
  problem.rule = rule;
  throw InputError({problem});
}

std::string read_stream(std::FILE* stream, const std::string& path, const SizeLimit& limit) {
  std::string text;
  constexpr std::size_t kChunk = 4096;
  std::array<char, kChunk> chunk{};
  while (true) {
    const std::size_t got = std::fread(chunk.data(), 1, chunk.size(), stream);
    text.append(chunk.data(), got);
    if (text.size() > limit.bytes) refuse(path, std::string(limit.refusal));
    if (std::ferror(stream) != 0) {
      refuse(path, std::string("cannot be read: ") + std::strerror(errno));
    }
    if (got == 0) return text;
  }
}

}  // namespace

std::string read_file(const std::string& path, const SizeLimit& limit) {
  if (path == "-") return read_stream(stdin, path, limit);
  std::error_code error;  // what it says, opening the file says again
  const std::filesystem::file_status status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) refuse(path, "there is no such file");
  if (std::filesystem::is_directory(status)) refuse(path, "is a directory; name the file in it");
  if (std::filesystem::is_regular_file(status)) {
    const std::uintmax_t size = std::filesystem::file_size(path, error);
    if (!error && size > limit.bytes) refuse(path, std::string(limit.refusal));
  }
  const auto close = [](std::FILE* stream) { std::fclose(stream); };
  const std::unique_ptr<std::FILE, decltype(close)> stream(std::fopen(path.c_str(), "rb"), close);
  if (!stream) refuse(path, std::string("cannot be opened: ") + std::strerror(errno));
  return read_stream(stream.get(), path, limit);
}

}  // namespace twoturn::cli
