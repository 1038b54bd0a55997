// SPDX-License-Identifier: MIT
#include "app/panels/run_reckoner.h"

namespace touchmark::panels {
namespace {

constexpr int pause_ms = 300, poll_ms = 200;

} // namespace

RunReckoner::RunReckoner(session::Session& session, QObject* parent)
    : QObject(parent), session_(session), reckoning_(this, pool_, session::Lane::Newer::cancels),
      comparing_(this, pool_, session::Lane::Newer::cancels) {
    pool_.setMaxThreadCount(2); // one a lane
    pool_.setThreadPriority(QThread::LowPriority);
    pause_.setSingleShot(true);
    pause_.setInterval(pause_ms);
    poll_.setInterval(poll_ms);
    connect(&pause_, &QTimer::timeout, this, &RunReckoner::start);
    connect(&poll_, &QTimer::timeout, this, [this] {
        if (!comparing()) poll_.stop();
        emit compared_anew();
    });
    connect(&session_, &session::Session::changed, this, &RunReckoner::on_changed);
}

RunReckoner::~RunReckoner() {
    reckoning_.cancel();
    comparing_.cancel();
    pool_.waitForDone();
}

void RunReckoner::watch(bool on) {
    watching_ = on;
    if (on && !current()) return start();
    if (on) return;
    pause_.stop();
    reckoning_.cancel();
    comparing_.cancel();
}

bool RunReckoner::current() const {
    return !pause_.isActive() && !reckoning_.busy() && job_ == session_.job() && session_.part() &&
           (trouble_ || extras_.size() == job_.marks.size());
}

bool RunReckoner::comparing() const {
    return wanted_;
}

void RunReckoner::on_changed(session::Changes changes) {
    using session::Change;
    if (changes & Change::part) {
        job_ = {};
        extras_.clear();
        compare({}, rates_, units_);
        emit reckoned();
    }
    if (watching_ && (changes & (Change::part | Change::job | Change::evaluation))) pause_.start();
}

void RunReckoner::start() {
    const auto evaluation = session_.evaluation();
    if (!watching_ || !evaluation || !session_.evaluation_is_current()) return; // comes back with the evaluation
    reckoning_.run({}, [this, evaluation, process = session_.process()](const Progress& progress) {
        return [this, evaluation, extras = pipeline::extras_of(*evaluation, process, progress)] {
            if (!extras && extras.error().code == cancelled_code) return;
            job_ = evaluation->job;
            trouble_ = extras ? std::nullopt : std::optional(extras.error());
            extras_ = extras.value_or(std::vector<pipeline::MarkExtra>{});
            emit reckoned();
        };
    });
    if (!mark_.empty()) start_comparing();
}

void RunReckoner::compare(const std::string& mark, const run::Rates& rates, std::int64_t units) {
    if (mark != mark_) alternatives_.clear();
    mark_ = mark;
    rates_ = rates;
    units_ = units;
    if (mark.empty()) {
        comparing_.cancel();
        wanted_ = false;
    } else {
        start_comparing();
    }
    emit compared_anew();
}

void RunReckoner::start_comparing() {
    if (!session_.part() || !session_.job().find(mark_)) return compare({}, rates_, units_);
    wanted_ = true;
    poll_.start();
    comparing_.run({}, [this, job = session_.job(), mark = mark_, around = session_.surroundings(), rates = rates_,
                        units = units_, evaluator = session_.evaluator()](const Progress& progress) {
        return [this, mark,
                found = pipeline::compare(*evaluator, job, mark, around, rates, units, {}, progress)]() mutable {
            if (mark != mark_) return;
            wanted_ = false;
            alternatives_ = std::move(found).value_or(std::vector<pipeline::Alternative>{});
            pipeline::sort_alternatives(alternatives_, rates_, units_);
            emit compared_anew();
        };
    });
}

void RunReckoner::reforecast(const run::Rates& rates, std::int64_t units) {
    rates_ = rates;
    units_ = units;
    pipeline::sort_alternatives(alternatives_, rates_, units_);
}

} // namespace touchmark::panels
