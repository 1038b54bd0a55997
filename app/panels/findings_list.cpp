// SPDX-License-Identifier: MIT
#include "app/panels/findings_list.h"

#include "app/panels/finding_card.h"
#include "app/panels/severity_mark.h"
#include "core/rules/rule.h"

#include <QVBoxLayout>

namespace touchmark::panels {
namespace {

QString name_of(const job::Job& job, const std::string& id) {
    const job::Mark* mark = job.find(id);
    if (!mark) return FindingsList::tr("The part");
    const auto first = content::expanded(mark->content, job.variables, {});
    const QString said = text(content::said_by(first ? *first : mark->content)).simplified();
    return said.isEmpty() ? text(mark->name) : FindingsList::tr("“%1”").arg(said);
}

} // namespace

FindingsList::FindingsList(session::Session& session, QWidget* parent)
    : QWidget(parent), session_(session), summary_(new QLabel(this)), nothing_(wrapping_label(this)),
      column_(new CardColumn(this)) {
    setAccessibleName(tr("Findings"));
    auto* title = new QLabel(tr("Findings"), this);
    title->setFont(strong_font(*title));
    make_quiet(*summary_);
    auto* head = new QHBoxLayout;
    head->addWidget(title);
    head->addStretch();
    head->addWidget(summary_);

    column_->cards().insertWidget(0, nothing_);

    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(2 * grid, card_inset, 2 * grid, 2 * grid);
    layout->setSpacing(grid);
    layout->addLayout(head);
    layout->addWidget(column_, 1);
    connect(&session_, &session::Session::changed, this, &FindingsList::on_changed);
    on_changed(session::Change::part);
}

FindingsList::~FindingsList() = default;

std::vector<FindingsList::Group> FindingsList::grouped(const std::vector<rules::Finding>& findings) {
    std::vector<Group> groups;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        auto found = std::ranges::find(groups, findings[i].mark, &Group::mark);
        if (found == groups.end()) found = groups.insert(groups.end(), Group{findings[i].mark, {}});
        found->findings.push_back(i);
    }
    for (Group& group : groups)
        std::ranges::stable_sort(group.findings, {}, [&](std::size_t i) { return findings[i].severity; });
    std::ranges::stable_sort(groups, {}, [&](const Group& group) { return findings[group.findings.front()].severity; });
    return groups;
}

void FindingsList::on_changed(session::Changes changes) {
    using session::Change;
    if (changes & (Change::part | Change::evaluation)) rebuild();
    if (changes & (Change::part | Change::evaluation | Change::selection)) show_selection();
}

FindingCard* FindingsList::card(std::size_t at) {
    while (cards_.size() <= at) {
        auto* made = new FindingCard(session_, column_->widget());
        cards_.push_back(made);
        connect(made, &Card::step, this, [this, mine = cards_.size() - 1](int by) {
            const std::size_t next = mine + static_cast<std::size_t>(by);
            if (next < shown_.size()) cards_[next]->setFocus(Qt::OtherFocusReason);
        });
    }
    return cards_[at];
}

QLabel* FindingsList::heading(std::size_t at) {
    while (headings_.size() <= at) {
        auto* made = new ElidedLabel(column_->widget());
        make_quiet(*made);
        made->setContentsMargins(0, headings_.empty() ? 0 : grid, 0, 0);
        headings_.push_back(made);
    }
    return headings_[at];
}

/// Cards are filled anew, never made anew, so that the pointer and the focus stay where they are while findings change
/// live.
void FindingsList::rebuild() {
    const auto evaluation = session_.evaluation();
    shown_.clear();
    std::size_t used_headings = 0;
    int line = 1; // after the empty list's sentence
    if (evaluation) {
        for (const Group& group : grouped(evaluation->findings)) {
            QLabel* head = heading(used_headings++);
            head->setText(name_of(evaluation->job, group.mark));
            column_->cards().insertWidget(line++, head);
            head->show();
            for (const std::size_t index : group.findings) {
                FindingCard* one = card(shown_.size());
                one->show_finding(index, evaluation->findings[index]);
                if (column_->cards().indexOf(one) != line) column_->cards().insertWidget(line, one);
                ++line;
                one->show();
                shown_.push_back(index);
            }
        }
    }
    for (std::size_t i = shown_.size(); i < cards_.size(); ++i)
        cards_[i]->hide();
    for (std::size_t i = used_headings; i < headings_.size(); ++i)
        headings_[i]->hide();
    show_summary();
    show_nothing_found();
}

void FindingsList::show_summary() {
    const auto evaluation = session_.evaluation();
    QStringList words;
    if (evaluation) {
        for (const auto severity : {rules::Severity::blocker, rules::Severity::warning, rules::Severity::advice}) {
            const auto count = std::ranges::count(evaluation->findings, severity, &rules::Finding::severity);
            if (count > 0) words << QStringLiteral("%1 %2").arg(count).arg(severity_word(severity).toLower());
        }
    }
    summary_->setText(words.join(QStringLiteral(", ")));
}

void FindingsList::show_nothing_found() {
    const auto evaluation = session_.evaluation();
    nothing_->setVisible(shown_.empty() && session_.part());
    if (!evaluation) return nothing_->setText(tr("Looking at the part …"));
    if (evaluation->job.marks.empty()) {
        nothing_->setText(
            tr("Once a mark is on the part, this is where you read how it will print, and what would help."));
        return;
    }
    QStringList checked;
    for (const rules::Rule& rule : rules::rules())
        checked << text(rule.title).toLower();
    nothing_->setText(tr("Nothing stands in the way. With %1, these should print as drawn.\n\nLooked at: %2.")
                          .arg(text(session_.process().title), checked.join(QStringLiteral(", "))));
}

void FindingsList::show_selection() {
    const auto selected = session_.selected_finding();
    for (std::size_t i = 0; i < shown_.size(); ++i) {
        const bool chosen = selected && shown_[i] == *selected;
        const bool newly = chosen && !cards_[i]->selected();
        cards_[i]->set_unfolded(chosen);
        if (newly) column_->bring_into_view(cards_[i]);
    }
}

} // namespace touchmark::panels
