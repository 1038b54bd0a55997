// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <cstring>
#include <span>
#include <stdexcept>
#include <streambuf>
#include <string>
#include <type_traits>
#include <vector>

namespace touchmark::part {

/// Collects what a stream writes in memory that grows by doubling.
class MemoryBuffer : public std::streambuf {
public:
    explicit MemoryBuffer(std::vector<char>& bytes) : bytes_(bytes) {}

protected:
    int_type overflow(int_type c) override {
        if (c != traits_type::eof()) bytes_.push_back(static_cast<char>(c));
        return c;
    }
    std::streamsize xsputn(const char* data, std::streamsize count) override {
        bytes_.insert(bytes_.end(), data, data + count);
        return count;
    }
    pos_type seekoff(off_type offset, std::ios_base::seekdir way, std::ios_base::openmode) override {
        return offset == 0 && way != std::ios_base::beg ? pos_type(static_cast<off_type>(bytes_.size())) : pos_type(-1);
    }

private:
    std::vector<char>& bytes_;
};

/// Reads from memory without copying it.
class MemoryView : public std::streambuf {
public:
    explicit MemoryView(std::span<const char> bytes) {
        char* begin = const_cast<char*>(bytes.data()); // never written to: setg asks for char*
        setg(begin, begin, begin + bytes.size());
    }
    [[nodiscard]] std::size_t position() const { return static_cast<std::size_t>(gptr() - eback()); }

protected:
    pos_type seekoff(off_type offset, std::ios_base::seekdir way, std::ios_base::openmode) override {
        const char* from = way == std::ios_base::beg ? eback() : way == std::ios_base::cur ? gptr() : egptr();
        const off_type target = (from - eback()) + offset;
        if (target < 0 || target > egptr() - eback()) return pos_type(-1);
        setg(eback(), eback() + target, egptr());
        return pos_type(target);
    }
    pos_type seekpos(pos_type position, std::ios_base::openmode which) override {
        return seekoff(off_type(position), std::ios_base::beg, which);
    }
};

/// Values in the order they are written; both sides run on the same machine, so in its own byte order.
class ByteWriter {
public:
    explicit ByteWriter(std::vector<char>& bytes) : bytes_(bytes) {}
    template <class T>
        requires std::is_trivially_copyable_v<T>
    void put(const T& value) {
        const char* data = reinterpret_cast<const char*>(&value);
        bytes_.insert(bytes_.end(), data, data + sizeof value);
    }
    void put(const std::string& text) {
        put(text.size());
        bytes_.insert(bytes_.end(), text.begin(), text.end());
    }
    template <class T, class Put> void put_all(const std::vector<T>& items, Put&& put_item) {
        put(items.size());
        for (const T& item : items)
            put_item(item);
    }

private:
    std::vector<char>& bytes_;
};

/// Throws std::out_of_range when the bytes end early.
class ByteReader {
public:
    explicit ByteReader(std::span<const char> bytes) : rest_(bytes) {}
    template <class T>
        requires std::is_trivially_copyable_v<T>
    [[nodiscard]] T get() {
        T value;
        std::memcpy(&value, take(sizeof value).data(), sizeof value);
        return value;
    }
    [[nodiscard]] std::string text() {
        const auto data = take(get<std::size_t>());
        return {data.begin(), data.end()};
    }
    template <class Get> [[nodiscard]] auto all(Get&& get_item) {
        std::vector<decltype(get_item())> items;
        const auto count = get<std::size_t>();
        if (count > rest_.size()) throw std::out_of_range("more items than bytes");
        items.reserve(count);
        for (std::size_t i = 0; i < count; ++i)
            items.push_back(get_item());
        return items;
    }
    std::span<const char> take(std::size_t count) {
        if (count > rest_.size()) throw std::out_of_range("the bytes end early");
        const auto taken = rest_.first(count);
        rest_ = rest_.subspan(count);
        return taken;
    }
    [[nodiscard]] std::span<const char> rest() const { return rest_; }

private:
    std::span<const char> rest_;
};

} // namespace touchmark::part
