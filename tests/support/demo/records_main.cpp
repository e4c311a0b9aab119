// demo_records FOLDER: writes the records of the demonstration's invented clients.

#include <fstream>
#include <iostream>

#include "app/files/practice_file.h"
#include "tests/support/demo/demo_weeks.h"

int main(int count, char** words)
{
    using namespace holdwell;
    if (count != 2) {
        std::cerr << "Usage: demo_records FOLDER\n";
        return 2;
    }
    for (const std::string_view name : test::demo_client_files()) {
        const test::DemoClient client = test::demo_client(name);
        const std::string path = std::string{words[1]} + "/" + std::string{client.file} + ".json";
        std::ofstream file{path};
        file << as_json({client.records, {}}) << std::flush;
        if (!file) {
            std::cerr << path << ": cannot be written; is there room on the disk?\n";
            return 1;
        }
        std::cout << path << ": " << client.story << '\n';
    }
    return 0;
}
