// SPDX-License-Identifier: MIT
#include "core/part/reader.h"

#include "core/part/guard.h"
#include "core/part/model_stream.h"
#include "core/part/reader_server.h"
#include "core/part/step_reading.h"
#include "core/part/wire.h"

#include <algorithm>
#include <csignal>
#include <mutex>
#include <poll.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace touchmark::part {
namespace {

using Clock = std::chrono::steady_clock;

constexpr std::string_view try_repair = "Try to export the part again, if possible as another version of STEP.";

std::unexpected<Error> server_gone() {
    return fail("part.crashed", "The process that reads part files has ended.",
                "Restart the program and open the file again.");
}

std::unexpected<Error> worker_died(const std::string& name, std::uint64_t status, const std::string& suspicion) {
    const int code = static_cast<int>(status);
    if (WIFSIGNALED(code) && WTERMSIG(code) == SIGKILL)
        return fail("part.too_large", "Reading \"" + name + "\" was stopped by the system, which was short of memory.",
                    "Close other programs, or open a single part of it instead of the assembly.");
    return fail("part.crashed",
                "\"" + name + "\" is so damaged that reading it failed" + (suspicion.empty() ? "" : ": " + suspicion) +
                    ".",
                std::string(try_repair));
}

/// Maps what the worker left.
class Mapping {
public:
    Mapping(int fd, std::size_t size) : size_(size) {
        void* at = ::mmap(nullptr, size, PROT_READ, MAP_SHARED | MAP_POPULATE, fd, 0);
        if (at != MAP_FAILED) at_ = static_cast<const char*>(at);
    }
    Mapping(const Mapping&) = delete;
    Mapping& operator=(const Mapping&) = delete;
    ~Mapping() {
        if (at_) ::munmap(const_cast<char*>(at_), size_);
    }
    [[nodiscard]] std::span<const char> bytes() const { return at_ ? std::span(at_, size_) : std::span<const char>(); }

private:
    const char* at_ = nullptr;
    std::size_t size_;
};

constexpr const char* taking_over = "Taking over the part";

struct Delivered {
    Model model;
    Layout layout;
};
Result<Delivered> take_model(const Message& message) {
    return guarded("part.bad_geometry", taking_over, [&]() -> Result<Delivered> {
        const Mapping mapping(message.descriptor.get(), message.size);
        Delivered delivered{model_from(mapping.bytes()), {}};
        delivered.layout = lay_out(delivered.model);
        return delivered;
    });
}

Result<PartPtr> take_result(Delivered delivered, const Message& message, std::shared_ptr<PendingCheck> pending) {
    return guarded("part.bad_geometry", taking_over, [&]() -> Result<PartPtr> {
        const Mapping mapping(message.descriptor.get(), message.size);
        return assemble(std::move(delivered.model), std::move(delivered.layout), measures_from(mapping.bytes()),
                        Digest::from_text(message.text).value_or(Digest{}), std::move(pending));
    });
}

/// The next thing the worker says but for its progress, which is passed on. Leaving and closing the channel makes the
/// server kill a worker that is still at it. Errors: "cancelled", "part.timeout".
Result<Message> next_word(const Descriptor& channel, Clock::time_point deadline, const Progress& progress) {
    for (;;) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        const auto left = std::chrono::ceil<std::chrono::milliseconds>(deadline - Clock::now());
        if (left.count() <= 0) return fail("part.timeout", "");
        pollfd watched{channel.get(), POLLIN, 0};
        // Cancelling sets a flag and wakes nobody.
        const int ready = ::poll(&watched, 1, static_cast<int>(std::min<std::int64_t>(left.count(), 20)));
        if (ready <= 0) continue;
        auto message = receive(channel.get());
        if (!message) return server_gone();
        if (message->kind != MessageKind::progress) return std::move(*message);
        progress.report(message->fraction, message->text);
    }
}

/// What a worker delivers, a message at a time.
class Deliveries {
public:
    Deliveries(const Descriptor& channel, Clock::time_point deadline, std::string name, std::chrono::milliseconds time)
        : channel_(channel), deadline_(deadline), name_(std::move(name)), time_(time) {}

    /// The message of this kind, or why it does not come.
    Result<Message> next(MessageKind wanted, const Progress& progress) {
        auto message = next_word(channel_, deadline_, progress);
        if (message && message->kind == MessageKind::suspicion) {
            suspicion_ = message->text;
            message = next_word(channel_, deadline_, progress);
        }
        if (!message && message.error().code == "part.timeout")
            return fail("part.timeout",
                        "Reading \"" + name_ + "\" was given up after " + std::to_string(time_.count() / 1000) +
                            " seconds.",
                        "The file is probably damaged. " + std::string(try_repair));
        if (!message || message->kind == wanted) return message;
        if (message->kind == MessageKind::failure) return fail(message->text, message->more, message->hint);
        return worker_died(name_, message->size, suspicion_);
    }

private:
    const Descriptor& channel_;
    Clock::time_point deadline_;
    std::string name_, suspicion_;
    std::chrono::milliseconds time_;
};

/// One byte a body of each product; empty when the check came to no end.
std::vector<char> verdicts_of(const Message& message) {
    if (message.kind != MessageKind::checked) return {};
    const Mapping mapping(message.descriptor.get(), message.size);
    return {mapping.bytes().begin(), mapping.bytes().end()};
}

Result<PartPtr> with_verdicts(const Part& part, const std::vector<char>& verdicts) {
    const Part::Impl& impl = part.impl();
    Model model = impl.model;
    Measures measures = impl.measures;
    std::size_t next = 0;
    for (auto& product : measures)
        for (BodyMeasure& body : product)
            body.valid = next < verdicts.size() && verdicts[next++] != 0;
    if (verdicts.empty())
        model.notes.push_back({"part.unchecked", "The check of the solids for faults came to no end.", -1});
    return assemble(std::move(model), impl.layout, measures, impl.digest, nullptr);
}

} // namespace

struct PendingCheck {
    std::mutex mutex;
    Descriptor channel;
    Clock::time_point deadline;
    PartPtr verdict; ///< the part with the faults told, once known
    bool all_valid = false;
};

Result<PartPtr> checked(const PartPtr& part, const Progress& progress) {
    PendingCheck* pending = part->impl().pending.get();
    if (!pending) return part;
    const std::lock_guard lock(pending->mutex);
    if (pending->all_valid) return part;
    if (pending->verdict) return pending->verdict;
    const auto message = next_word(pending->channel, pending->deadline, progress);
    if (!message && message.error().code == cancelled_code) return std::unexpected(message.error());
    const std::vector<char> verdicts = message ? verdicts_of(*message) : std::vector<char>();
    pending->channel.reset();
    pending->all_valid = !verdicts.empty() && std::ranges::find(verdicts, 0) == verdicts.end();
    if (pending->all_valid) return part;
    const auto faulty =
        guarded("part.bad_geometry", "Checking the part", [&] { return with_verdicts(*part, verdicts); });
    if (faulty) pending->verdict = *faulty;
    return faulty;
}

struct Reader::Impl {
    Descriptor control;
    pid_t server = -1;

    ~Impl() {
        control.reset(); // the server ends
        if (server > 0) ::waitpid(server, nullptr, 0);
    }
};

Reader::Reader(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Reader::~Reader() = default;

Result<std::shared_ptr<Reader>> Reader::start() {
    auto sockets = socket_pair();
    const pid_t program = ::getpid();
    const pid_t server = sockets ? ::fork() : -1;
    if (server < 0)
        return fail("part.crashed", "The process that reads part files cannot be started.",
                    "Close other programs and try again.");
    if (server == 0) {
        ::prctl(PR_SET_PDEATHSIG, SIGKILL);
        if (::getppid() != program) ::_exit(1);
        sockets->near.reset();
        serve(sockets->far.get());
    }
    silence_opencascade();
    auto impl = std::make_unique<Impl>();
    impl->control = std::move(sockets->near);
    impl->server = server;
    return std::shared_ptr<Reader>(new Reader(std::move(impl)));
}

Result<PartPtr> Reader::read(const std::filesystem::path& file, const Progress& progress, const ReadLimits& limits) {
    std::error_code ignored;
    Message request;
    request.kind = MessageKind::request;
    request.text = std::filesystem::absolute(file, ignored).string();
    request.size = limits.memory_bytes;
    auto channel = socket_pair();
    if (!channel)
        return fail("part.crashed", "The system has no room for another connection.",
                    "Close other programs and try again.");
    request.descriptor = std::move(channel->far);
    if (!send(impl_->control.get(), request)) return server_gone();
    request.descriptor.reset();

    const auto pending = std::make_shared<PendingCheck>();
    pending->channel = std::move(channel->near);
    pending->deadline = Clock::now() + limits.time;
    Deliveries deliveries(pending->channel, pending->deadline, file.filename().string(), limits.time);
    const auto model = deliveries.next(MessageKind::model, progress);
    if (!model) return std::unexpected(model.error());
    auto delivered = take_model(*model);
    if (!delivered) return std::unexpected(delivered.error());
    const auto measured = deliveries.next(MessageKind::result, progress);
    if (!measured) return std::unexpected(measured.error());
    auto part = take_result(*std::move(delivered), *measured, pending);
    if (!part || limits.verdict == Verdict::later) return part;
    return checked(*part, progress);
}

} // namespace touchmark::part
