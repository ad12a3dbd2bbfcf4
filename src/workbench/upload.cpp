// SPDX-License-Identifier: Apache-2.0
#include "workbench/upload.h"

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "app/inputs.h"
#include "base/error.h"
#include "base/file.h"
#include "base/file_writer.h"
#include "base/sha256.h"
#include "workbench/replies.h"

namespace combwright::workbench {
namespace {

// A file of the desk that comes in part by part.
class Upload : public Intake {
 public:
  Upload(const Desk& desk, std::string name, std::string if_match)
      : desk_(desk), name_(std::move(name)), known_(std::move(if_match)) {
    std::erase(known_, '"');
    try {
      writer_.emplace(desk.path_of(name_));
    } catch (const Error& error) {
      refused_ = problem(error);
    }
  }

  void take(std::string_view bytes) override {
    if (refused_) return;
    try {
      writer_->write(bytes);
      sum_.add(bytes);
    } catch (const Error& error) {
      refused_ = problem(error);
    }
  }

  Reply end() override {
    if (refused_) return *refused_;
    try {
      if (app::ends_like_tune(name_)) check_tune();
      if (!desk_.save(name_, *writer_, known_)) return changed();
    } catch (const Error& error) {
      return problem(error);
    }
    const std::string version = sum_.hex();
    Reply reply = json_reply({{"version", version}});
    reply.version = version;
    return reply;
  }

 private:
  // A box may be saved half done; a tune comes whole, and one that can't be read would stand in the
  // way of all questions about the tunes of the folder.
  void check_tune() {
    writer_->flush();
    app::tune_input(read_file(writer_->part()), name_);
  }

  Reply changed() const {
    return problem(412, fmt::format("{} was changed by another hand; look at it before you write "
                                    "over it",
                                    name_));
  }

  const Desk& desk_;
  std::string name_;
  std::string known_;
  std::optional<FileWriter> writer_;
  Sha256 sum_;
  std::optional<Reply> refused_;
};

// Where nothing can be put.
class Refusal : public Intake {
 public:
  explicit Refusal(Reply reply) : reply_(std::move(reply)) {}
  void take(std::string_view) override {}
  Reply end() override { return reply_; }

 private:
  Reply reply_;
};

}  // namespace

std::unique_ptr<Intake> upload(const Desk& desk, const Request& request) {
  constexpr std::string_view files = "/api/files/";
  if (!request.path.starts_with(files))
    return std::make_unique<Refusal>(problem(404, "there is no file to be written here"));
  return std::make_unique<Upload>(desk, request.path.substr(files.size()), request.if_match);
}

}  // namespace combwright::workbench
