// SPDX-License-Identifier: MIT
#include "core/part/wire.h"

#include "core/part/byte_stream.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <sys/socket.h>
#include <sys/uio.h>
#include <unistd.h>

namespace touchmark::part {
namespace {

constexpr std::size_t largest_text = 8192, largest_datagram = 3 * largest_text + 256;

} // namespace

void Descriptor::reset() {
    if (fd_ >= 0) ::close(fd_);
    fd_ = -1;
}

std::optional<SocketPair> socket_pair() {
    int fds[2];
    if (::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, fds) != 0) return std::nullopt;
    return SocketPair{Descriptor(fds[0]), Descriptor(fds[1])};
}

Message failure_message(const Error& error) {
    Message message;
    message.kind = MessageKind::failure;
    message.text = error.code;
    message.more = error.message;
    message.hint = error.hint;
    return message;
}

bool send(int socket, const Message& message, Wait wait) {
    std::vector<char> bytes;
    ByteWriter writer(bytes);
    writer.put(message.kind);
    writer.put(message.fraction);
    writer.put(message.size);
    writer.put(message.milliseconds);
    for (const std::string* text : {&message.text, &message.more, &message.hint})
        writer.put(text->substr(0, largest_text));

    iovec data{bytes.data(), bytes.size()};
    msghdr header{};
    header.msg_iov = &data;
    header.msg_iovlen = 1;
    alignas(cmsghdr) std::array<char, CMSG_SPACE(sizeof(int))> control{};
    if (message.descriptor) {
        header.msg_control = control.data();
        header.msg_controllen = control.size();
        cmsghdr* item = CMSG_FIRSTHDR(&header);
        item->cmsg_level = SOL_SOCKET;
        item->cmsg_type = SCM_RIGHTS;
        item->cmsg_len = CMSG_LEN(sizeof(int));
        const int fd = message.descriptor.get();
        std::memcpy(CMSG_DATA(item), &fd, sizeof fd);
    }
    const int flags = MSG_NOSIGNAL | (wait == Wait::no ? MSG_DONTWAIT : 0);
    ssize_t sent;
    do
        sent = ::sendmsg(socket, &header, flags);
    while (sent < 0 && errno == EINTR);
    return sent == static_cast<ssize_t>(bytes.size());
}

std::optional<Message> receive(int socket) {
    std::vector<char> bytes(largest_datagram);
    iovec data{bytes.data(), bytes.size()};
    msghdr header{};
    header.msg_iov = &data;
    header.msg_iovlen = 1;
    alignas(cmsghdr) std::array<char, CMSG_SPACE(sizeof(int))> control{};
    header.msg_control = control.data();
    header.msg_controllen = control.size();
    ssize_t got;
    do
        got = ::recvmsg(socket, &header, MSG_CMSG_CLOEXEC);
    while (got < 0 && errno == EINTR);
    if (got <= 0) return std::nullopt;

    Message message;
    for (cmsghdr* item = CMSG_FIRSTHDR(&header); item; item = CMSG_NXTHDR(&header, item)) {
        if (item->cmsg_level != SOL_SOCKET || item->cmsg_type != SCM_RIGHTS) continue;
        int fd = -1;
        std::memcpy(&fd, CMSG_DATA(item), sizeof fd);
        message.descriptor = Descriptor(fd);
    }
    try {
        ByteReader reader(std::span<const char>(bytes).first(static_cast<std::size_t>(got)));
        message.kind = reader.get<MessageKind>();
        message.fraction = reader.get<double>();
        message.size = reader.get<std::uint64_t>();
        message.milliseconds = reader.get<std::uint64_t>();
        for (std::string* text : {&message.text, &message.more, &message.hint})
            *text = reader.text();
    } catch (const std::out_of_range&) {
        return std::nullopt;
    }
    return message;
}

} // namespace touchmark::part
