#pragma once

#include <cstddef>
#include <initializer_list>
#include <memory>
#include <utility>
#include <vector>

namespace twoturn {

/// Values that never change once they stand in it: copies of the list share them.
template <class Value>
class SharedList {
 public:
  SharedList() = default;
  SharedList(std::vector<Value> values)
      : values_(std::make_shared<const std::vector<Value>>(std::move(values))) {}
  SharedList(std::initializer_list<Value> values) : SharedList(std::vector<Value>(values)) {}

  std::size_t size() const { return values_ ? values_->size() : 0; }
  bool empty() const { return size() == 0; }
  const Value* begin() const { return values_ ? values_->data() : nullptr; }
  const Value* end() const { return begin() + size(); }
  const Value& front() const { return values_->front(); }
  const Value& back() const { return values_->back(); }
  const Value& operator[](std::size_t at) const { return (*values_)[at]; }

 private:
  std::shared_ptr<const std::vector<Value>> values_;
};

}  // namespace twoturn
