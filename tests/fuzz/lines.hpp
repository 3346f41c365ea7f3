// Changes of a text that people type: its lines, numbers and keys, where a fuzzer of bytes seldom
// hits.
#pragma once

#include <algorithm>
#include <array>
#include <cctype>
#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "twoturn/read/profile.hpp"

namespace fuzz {

class Lines {
 public:
  Lines(std::string text, unsigned seed) : text_(std::move(text)), random_(seed) {}

  std::string changed() {
    switch (pick(5)) {
      case 0:
        line_again();
        break;
      case 1:
        line_out();
        break;
      case 2:
        number_other();
        break;
      case 3:
        key_other();
        break;
      default:
        line_new();
        break;
    }
    return text_;
  }

 private:
  struct Piece {
    std::size_t begin = 0;
    std::size_t end = 0;
  };

  std::size_t pick(std::size_t below) {
    return below == 0 ? 0 : std::uniform_int_distribution<std::size_t>(0, below - 1)(random_);
  }

  Piece line() {
    const std::size_t at = pick(text_.size());
    const std::size_t before = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
    const std::size_t end = text_.find('\n', at);
    return {before == std::string::npos ? 0 : before + 1,
            end == std::string::npos ? text_.size() : end + 1};
  }

  void line_again() {
    const Piece from = line();
    text_.insert(line().begin, text_.substr(from.begin, from.end - from.begin));
  }

  void line_out() {
    const Piece out = line();
    text_.erase(out.begin, out.end - out.begin);
  }

  const std::string& number() {
    static const std::vector<std::string> all{
        "0",         "1",      "-1",  "0.5",    "2",   "3",   "1e-9", "1e9",   "-0.0",
        "1e300",     "1e-300", "nan", "inf",    "180", "360", "90.0", "-360",  "0.001",
        "\"10:30\"", "true",   "[]",  "[1, 2]", "20",  "200", "1e15", "99999", "\"\""};
    return all[pick(all.size())];
  }

  void number_other() {
    std::vector<Piece> numbers;
    for (std::size_t at = 0; at < text_.size();) {
      const auto part = [this](std::size_t i) {
        return std::isdigit(static_cast<unsigned char>(text_[i])) != 0 || text_[i] == '.' ||
               text_[i] == '-';
      };
      const std::size_t begin = at;
      while (at < text_.size() && part(at)) ++at;
      if (at > begin) numbers.push_back({begin, at});
      if (at == begin) ++at;
    }
    if (numbers.empty()) return;
    const Piece old = numbers[pick(numbers.size())];
    text_.replace(old.begin, old.end - old.begin, number());
  }

  std::string key() {
    static const std::vector<std::string> all = twoturn::profile_keys();
    const std::string& whole = all[pick(all.size())];
    const std::size_t dot = whole.rfind('.');
    return dot == std::string::npos ? whole : whole.substr(dot + 1);
  }

  void key_other() {
    const Piece at = line();
    const std::size_t equals = text_.find('=', at.begin);
    if (equals == std::string::npos || equals >= at.end) return;
    text_.replace(at.begin, equals - at.begin, key() + " ");
  }

  void line_new() { text_.insert(line().begin, key() + " = " + number() + "\n"); }

  std::string text_;
  std::mt19937 random_;
};

// What a target's own LLVMFuzzerCustomMutator does: half of the time a change of lines.
template <class OfBytes>
std::size_t mutate(std::uint8_t* data, std::size_t size, std::size_t most, unsigned seed,
                   const OfBytes& of_bytes) {
  if (seed % 2 == 0) return of_bytes(data, size, most);
  const std::string text = Lines(std::string(data, data + size), seed / 2).changed();
  const std::size_t length = std::min(most, text.size());
  std::copy_n(text.begin(), length, data);
  return length;
}

}  // namespace fuzz
