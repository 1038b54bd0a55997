// SPDX-License-Identifier: MIT
#pragma once

// What the program, the server and its workers say to each other: one datagram a message over a local socket, which may
// carry a file descriptor along.

#include "core/base/result.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>

namespace touchmark::part {

/// Owns a file descriptor.
class Descriptor {
public:
    Descriptor() = default;
    explicit Descriptor(int fd) : fd_(fd) {}
    Descriptor(Descriptor&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        std::swap(fd_, other.fd_);
        return *this;
    }
    ~Descriptor() { reset(); }
    void reset();
    [[nodiscard]] int get() const { return fd_; }
    explicit operator bool() const { return fd_ >= 0; }

private:
    int fd_ = -1;
};

struct SocketPair {
    Descriptor near, far;
};
[[nodiscard]] std::optional<SocketPair> socket_pair();

enum class MessageKind : std::uint32_t {
    request,   ///< program → server: read this file and talk to the descriptor that comes along
    progress,  ///< worker → program
    suspicion, ///< worker → program: what to add to the error should the worker die
    failure,   ///< worker → program: the last message
    model,     ///< worker → program: the bytes are in the descriptor that comes along
    result,    ///< worker → program, after the model: what was measured of it, likewise
    checked,   ///< worker → program, after the result: the last message; bytes like the result: one a body of each
               ///< product, 0 if invalid
    died       ///< server → program: the worker ended without a last message
};

struct Message {
    MessageKind kind = MessageKind::died;
    std::string text, more, hint; ///< path; progress text; error code, message, hint
    double fraction = 0;
    std::uint64_t size = 0; ///< result: bytes; request: memory limit; died: the status that waitpid() gave
    std::uint64_t milliseconds = 0;
    Descriptor descriptor;
};

[[nodiscard]] Message failure_message(const Error& error);

enum class Wait { yes, no };
/// False when the other side is gone, or would have to be waited for and that is not wanted.
bool send(int socket, const Message& message, Wait wait = Wait::yes);
/// Blocks; nullopt when the other side is gone.
[[nodiscard]] std::optional<Message> receive(int socket);

} // namespace touchmark::part
