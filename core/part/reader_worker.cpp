// SPDX-License-Identifier: MIT
#include "core/part/reader_worker.h"

#include "core/part/guard.h"
#include "core/part/model_stream.h"
#include "core/part/step_reading.h"

#include <cerrno>
#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <limits>
#include <malloc.h>
#include <new>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

namespace touchmark::part {
namespace {

int answer_channel = -1;
std::string file_name;

Error too_large() {
    return {"part.too_large", "\"" + file_name + "\" needs more memory than this machine can spare.",
            "Open a single part of it instead of the assembly, or use a machine with more memory."};
}

[[noreturn]] void out_of_memory() {
    // Some of what was taken can be given back to have room for the message; nothing else of this process matters any
    // more.
    std::set_new_handler(nullptr);
    const rlimit open{RLIM_INFINITY, RLIM_INFINITY};
    ::setrlimit(RLIMIT_AS, &open);
    rlimit hard{};
    ::getrlimit(RLIMIT_AS, &hard);
    hard.rlim_cur = hard.rlim_max;
    ::setrlimit(RLIMIT_AS, &hard);
    send(answer_channel, failure_message(too_large()));
    ::_exit(0);
}

/// Pages of /proc/self/statm: what is mapped already, libraries included.
[[maybe_unused]] std::size_t address_space() {
    std::ifstream statm("/proc/self/statm");
    std::size_t pages = 0;
    statm >> pages;
    return pages * static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
}

std::size_t peak_address_space() {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;)
        if (std::size_t kilobytes = 0; word == "VmPeak:" && status >> kilobytes) return kilobytes * 1024;
    return 0;
}

/// Only the soft limit, so that a message about it can still be sent. Returns the limit.
std::size_t limit_memory(std::size_t wanted) {
#if defined(__SANITIZE_ADDRESS__) // whose shadow takes terabytes of address space
    (void)wanted;
    return std::numeric_limits<std::size_t>::max();
#else
    const auto machine =
        static_cast<std::size_t>(::sysconf(_SC_PHYS_PAGES)) * static_cast<std::size_t>(::sysconf(_SC_PAGESIZE));
    const std::size_t limit = address_space() + (wanted ? wanted : machine / 4 * 3);
    rlimit now{};
    ::getrlimit(RLIMIT_AS, &now);
    now.rlim_cur = std::min<rlim_t>(limit, now.rlim_max);
    ::setrlimit(RLIMIT_AS, &now);
    return limit;
#endif
}

constexpr int memory_piece = 64 << 20;

/// OpenCASCADE swallows its own want of memory and carries on with less: what came out may lack faces. A piece that was
/// refused does not show in the peak.
bool ran_short(std::size_t limit) {
    const std::size_t peak = peak_address_space();
    return peak > limit / 10 * 9 || peak + 2 * memory_piece > limit;
}

void prepare_process() {
    const rlimit none{0, 0};
    ::setrlimit(RLIMIT_CORE, &none);
    rlimit stack{};
    ::getrlimit(RLIMIT_STACK, &stack);
    stack.rlim_cur = std::min<rlim_t>(100u << 20, stack.rlim_max); // deep nesting is read by recursion
    ::setrlimit(RLIMIT_STACK, &stack);
    // The process lives for one file: memory is taken in large pieces and never given back.
    ::mallopt(M_TOP_PAD, memory_piece);
    ::mallopt(M_TRIM_THRESHOLD, 1 << 30);
    ::mallopt(M_MMAP_THRESHOLD, 256 << 20);
}

/// Has the system hand over the first of the heap in large pages: a fresh process else takes a fault for every 4 kB.
void prepare_heap() {
    constexpr std::uintptr_t large_page = 2 << 20;
    const auto begin = (reinterpret_cast<std::uintptr_t>(::sbrk(0)) + large_page - 1) / large_page * large_page;
    void* volatile first = std::malloc(memory_piece); // volatile, or the compiler sees that nobody needs it
    std::free(first);                                 // the heap stays as large as it got: see prepare_process()
    const auto end = reinterpret_cast<std::uintptr_t>(::sbrk(0)) / large_page * large_page;
    if (end > begin) ::madvise(reinterpret_cast<void*>(begin), end - begin, MADV_HUGEPAGE);
}

/// The bytes of a file, mapped or read.
class FileBytes {
public:
    static Result<FileBytes> open(const std::string& path) {
        const std::string shown = "\"" + path + "\"";
        struct stat status{};
        if (::stat(path.c_str(), &status) != 0) {
            if (errno == ENOENT || errno == ENOTDIR)
                return fail("part.not_found", "There is no file " + shown + ".", "Check the name and the folder.");
            return fail("part.not_readable", shown + " cannot be reached: " + std::strerror(errno) + ".",
                        "Check the permissions of the folder.");
        }
        if (S_ISDIR(status.st_mode))
            return fail("part.not_readable", shown + " is a folder.", "Choose a STEP file in it.");
        if (!S_ISREG(status.st_mode))
            return fail("part.not_readable", shown + " is not an ordinary file.", "Choose a STEP file.");
        FileBytes bytes;
        bytes.file_ = Descriptor(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
        if (!bytes.file_)
            return fail("part.not_readable", shown + " cannot be opened: " + std::strerror(errno) + ".",
                        "Check the permissions of the file.");
        bytes.size_ = static_cast<std::size_t>(status.st_size);
        if (bytes.size_ == 0) return bytes;
        void* at = ::mmap(nullptr, bytes.size_, PROT_READ, MAP_PRIVATE | MAP_POPULATE, bytes.file_.get(), 0);
        if (at == MAP_FAILED) return std::unexpected(too_large());
        bytes.at_ = static_cast<const char*>(at);
        return bytes;
    }
    [[nodiscard]] std::span<const char> span() const { return {at_, size_}; }

private:
    Descriptor file_;
    const char* at_ = nullptr; // stays mapped: the process ends soon
    std::size_t size_ = 0;
};

Digest digest_of(std::span<const char> bytes) {
    return Digester().bytes(std::as_bytes(bytes)).digest();
}

struct Answer {
    Model model;
    Layout layout;
    Digest digest;
};

Result<Answer> read_file(const std::string& path, const Progress& progress) {
    const auto bytes = FileBytes::open(path);
    if (!bytes) return std::unexpected(bytes.error());
    const auto scanned = prescan(bytes->span(), file_name);
    if (!scanned) return std::unexpected(scanned.error());
    if (scanned->dangling) {
        Message message;
        message.kind = MessageKind::suspicion;
        message.text = "it refers to #" + std::to_string(scanned->dangling) + ", which is missing";
        send(answer_channel, message);
    }
    auto model = read_step(bytes->span().subspan(scanned->begin), path, *scanned, progress);
    if (!model) return std::unexpected(model.error());
    progress.report(0.9, "Looking at the faces of " + file_name);
    Answer answer{std::move(*model), {}, digest_of(bytes->span())};
    if (count_bodies(answer.model) > most_bodies) return std::unexpected(too_many_bodies(file_name));
    answer.layout = lay_out(answer.model);
    return answer;
}

bool send_bytes(int channel, MessageKind kind, std::string text, std::span<const char> bytes) {
    Message message;
    message.kind = kind;
    message.text = std::move(text);
    message.size = bytes.size();
    message.descriptor = Descriptor(::memfd_create("part", MFD_CLOEXEC | MFD_ALLOW_SEALING));
    if (!message.descriptor) return false;
    for (std::size_t at = 0; at < bytes.size();) {
        const ssize_t written = ::write(message.descriptor.get(), bytes.data() + at, bytes.size() - at);
        if (written <= 0) return false;
        at += static_cast<std::size_t>(written);
    }
    // The program maps these bytes: nobody may shorten them under its hands.
    ::fcntl(message.descriptor.get(), F_ADD_SEALS, F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE | F_SEAL_SEAL);
    return send(channel, message);
}

void send_check(int channel, const Answer& answer) {
    std::vector<char> verdicts;
    for (const auto& product : check(answer.layout))
        verdicts.insert(verdicts.end(), product.begin(), product.end());
    send_bytes(channel, MessageKind::checked, {}, verdicts);
}

} // namespace

void work(int channel, const Message& request) {
    prepare_process();
    answer_channel = channel;
    file_name = std::filesystem::path(request.text).filename().string();
    const std::size_t limit = limit_memory(request.size);
    std::set_new_handler(out_of_memory);
    prepare_heap();

    auto last = std::chrono::steady_clock::time_point();
    const Progress progress([&](double fraction, std::string_view text) {
        const auto now = std::chrono::steady_clock::now();
        if (now - last < std::chrono::milliseconds(40)) return;
        last = now;
        Message message;
        message.kind = MessageKind::progress;
        message.fraction = fraction;
        message.text = text;
        send(channel, message, Wait::no);
    });
    const std::string reading = "Reading \"" + file_name + "\"";
    const auto answer = guarded("part.bad_geometry", reading, [&] { return read_file(request.text, progress); });
    const auto refused = [&](const Error* error) {
        if (!error && !ran_short(limit)) return false;
        send(channel, failure_message(ran_short(limit) ? too_large() : *error));
        return true;
    };
    const auto sent = [&](MessageKind kind, std::string text, std::span<const char> bytes) {
        if (send_bytes(channel, kind, std::move(text), bytes)) return true;
        send(channel, failure_message(too_large()));
        return false;
    };
    if (refused(answer ? nullptr : &answer.error())) ::_exit(0);
    // While these faces are measured the program takes the model over.
    if (!sent(MessageKind::model, {}, to_bytes(answer->model))) ::_exit(0);
    const auto measures =
        guarded("part.bad_geometry", reading, [&]() -> Result<Measures> { return measure(answer->layout, progress); });
    if (refused(measures ? nullptr : &measures.error())) ::_exit(0);
    if (sent(MessageKind::result, answer->digest.text(), to_bytes(*measures))) send_check(channel, *answer);
    ::_exit(0);
}

} // namespace touchmark::part
