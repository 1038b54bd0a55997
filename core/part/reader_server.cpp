// SPDX-License-Identifier: MIT
#include "core/part/reader_server.h"

#include "core/part/model_stream.h"
#include "core/part/part_data.h"
#include "core/part/reader_worker.h"
#include "core/part/step_reading.h"

#include <Standard_Failure.hxx>

#include <algorithm>
#include <csignal>
#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/signalfd.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

namespace touchmark::part {
namespace {

struct Worker {
    pid_t process = -1;
    Descriptor channel; ///< a second hold on the worker's end, to tell the program how it died
};

class Server {
public:
    explicit Server(int control) : control_(control) {
        sigset_t child;
        sigemptyset(&child);
        sigaddset(&child, SIGCHLD);
        ::sigprocmask(SIG_BLOCK, &child, &before_);
        signals_ = Descriptor(::signalfd(-1, &child, SFD_CLOEXEC | SFD_NONBLOCK));
    }

    void run() {
        for (;;) {
            std::vector<pollfd> watched{{control_, POLLIN, 0}, {signals_.get(), POLLIN, 0}};
            for (const Worker& worker : workers_)
                watched.push_back({worker.channel.get(), 0, 0}); // POLLHUP comes unasked: the program hung up
            const int ready = ::poll(watched.data(), watched.size(), practised_ ? -1 : idle_milliseconds);
            if (ready == 0) practise();
            if (ready <= 0) continue;
            if (watched[1].revents) bury();
            for (std::size_t i = 2; i < watched.size(); ++i)
                if (watched[i].revents & (POLLHUP | POLLERR)) kill_on(watched[i].fd);
            if (!watched[0].revents) continue;
            auto request = receive(control_);
            if (!request) break;
            if (request->kind == MessageKind::request && request->descriptor) employ(std::move(*request));
        }
        for (const Worker& worker : workers_)
            ::kill(worker.process, SIGKILL);
    }

private:
    /// Not before it has been quiet for a while: a program that reads one file at once and ends should not wait for it.
    static constexpr int idle_milliseconds = 150;
    void practise() {
        practised_ = true;
        try {
            const std::string file = practice_file();
            const auto scanned = prescan(file, "practice");
            if (!scanned) return;
            const auto model = read_step(file, "/practice.step", *scanned, Progress());
            if (!model) return;
            // So few faces that no thread is started: threads do not come along when a worker is forked.
            (void)measure(lay_out(*model), Progress());
            (void)to_bytes(*model);
        } catch (const Standard_Failure&) {
        }
    }
    void employ(Message request) {
        const pid_t server = ::getpid();
        const pid_t process = ::fork();
        if (process == 0) {
            ::prctl(PR_SET_PDEATHSIG, SIGKILL);
            if (::getppid() != server) ::_exit(1);
            ::sigprocmask(SIG_SETMASK, &before_, nullptr);
            ::close(control_);
            const int channel = request.descriptor.get();
            for (Worker& other : workers_)
                other.channel.reset();
            work(channel, request);
        }
        if (process < 0) {
            send(request.descriptor.get(),
                 failure_message({"part.crashed", "The system has no room for another process.",
                                  "Close other programs and try again."}));
            return;
        }
        workers_.push_back({process, std::move(request.descriptor)});
    }
    void bury() {
        signalfd_siginfo ignored;
        while (::read(signals_.get(), &ignored, sizeof ignored) > 0) {
        }
        int status = 0;
        for (pid_t process; (process = ::waitpid(-1, &status, WNOHANG)) > 0;) {
            const auto worker = std::ranges::find(workers_, process, &Worker::process);
            if (worker == workers_.end()) continue;
            Message message;
            message.kind = MessageKind::died;
            message.size = static_cast<std::uint64_t>(status);
            send(worker->channel.get(), message, Wait::no);
            workers_.erase(worker);
        }
    }
    void kill_on(int channel) {
        for (const Worker& worker : workers_)
            if (worker.channel.get() == channel) ::kill(worker.process, SIGKILL);
    }

    int control_;
    bool practised_ = false;
    Descriptor signals_;
    sigset_t before_{};
    std::vector<Worker> workers_;
};

/// Neither the server nor a worker says anything to the terminal or answers its keys; that is the program's part.
void leave_terminal() {
    const int nothing = ::open("/dev/null", O_RDWR | O_CLOEXEC);
    for (const int fd : {0, 1, 2})
        if (nothing >= 0) ::dup2(nothing, fd);
    if (nothing > 2) ::close(nothing);
    for (const int signal : {SIGINT, SIGQUIT, SIGHUP, SIGPIPE})
        std::signal(signal, SIG_IGN);
}

} // namespace

void serve(int control) {
    leave_terminal();
    silence_opencascade();
    prepare_step_reader();
    Server(control).run();
    ::_exit(0);
}

} // namespace touchmark::part
