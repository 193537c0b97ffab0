// retap visit export, import, backup
#include "aside_file.hpp"
#include "error.hpp"
#include "outputs.hpp"
#include "report/visit_json.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>

namespace retap::commands {
namespace {

/// More than any visit: some thirty takes of ten minutes.
constexpr std::uintmax_t largest_import = std::uintmax_t{512} << 20U;

std::string whole_file(const std::string& file) {
    const auto refuse = [&](const std::string& why) {
        throw InputError("Cannot read '" + file + "': " + why + ". Give a file that 'retap visit export' wrote.");
    };
    // Asked before it is opened: a pipe would wait for somebody to write, and a device has no end.
    std::error_code fault;
    const auto status = std::filesystem::status(file, fault);
    if (!std::filesystem::exists(status)) {
        refuse(fault && fault != std::errc::no_such_file_or_directory ? fault.message() : "there is no such file");
    }
    if (!std::filesystem::is_regular_file(status)) {
        refuse(std::filesystem::is_directory(status) ? "it is a folder" : "it is a device or a pipe, not a file");
    }
    if (std::filesystem::file_size(file, fault) > largest_import || fault) {
        refuse(fault ? fault.message() : "it is larger than any visit");
    }
    std::ifstream in(file, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), {}};
    if (!in) {
        refuse(std::strerror(errno));
    }
    return text;
}

struct FileOptions {
    visit::VisitId id = 0;
    std::string file;
    bool json = false;
};

void export_visit(const FileOptions& options, const StoreOption& store) {
    refuse_to_overwrite(options.file, {store.file()});
    const auto open = store.open();
    const visit::Parcel parcel = open->pack(options.id);
    const visit::Visit visit = visit::fold(options.id, parcel.uid, parcel.entries);
    write_privately();
    write_file_whole(options.file, report::json_text(report::export_json(visit, parcel)));
    print("Visit " + std::to_string(options.id) + " is exported to " + options.file +
          ", sounds included. It is health data: keep it as such.\n");
}

void import_visit(const FileOptions& options, const StoreOption& store) {
    const visit::Parcel parcel = report::parcel_from(whole_file(options.file), options.file);
    const auto open = store.open_or_make();
    const visit::VisitId id = open->unpack(parcel);
    print_written(options.json, id, static_cast<int>(parcel.entries.size()),
                  "taken in whole from " + options.file + ".");
}

} // namespace

void add_visit_carry(Command group, const StoreOption& store) {
    auto out = std::make_shared<FileOptions>();
    Command exporting = add_visit_command(group, "export", "Write a visit with its sounds as one JSON file");
    add_visit_argument(exporting, out->id);
    exporting.option("OUT", out->file, "The file to write").required();
    exporting.when_run([out, store] { export_visit(*out, store); });

    auto in = std::make_shared<FileOptions>();
    Command importing = add_visit_command(group, "import", "Take in a visit that was exported");
    importing.option("FILE", in->file, "A file that 'retap visit export' wrote").required();
    importing.json_flag(in->json);
    importing.when_run([in, store] { import_visit(*in, store); });

    auto file = std::make_shared<std::string>();
    Command backup = add_visit_command(group, "backup", "Copy the whole store, also while it is in use");
    backup.option("OUT", *file, "The file to write; it must not exist").required();
    backup.when_run([file, store] {
        refuse_dash(*file);
        store.open()->backup(*file);
        print("The store is backed up to " + *file + ". To use it: retap visit list --store " + *file + "\n");
    });
}

} // namespace retap::commands
