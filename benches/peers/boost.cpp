// Times Boost.Polygon's Voronoi diagram of the edges in a file, four whole numbers a line, and prints the
// seconds that building the diagram took.

#include <boost/polygon/voronoi.hpp>

#include <chrono>
#include <cstdio>
#include <vector>

struct Point {
    int x, y;
};

struct Edge {
    Point a, b;
};

namespace boost::polygon {

template <>
struct geometry_concept<Point> {
    using type = point_concept;
};

template <>
struct point_traits<Point> {
    using coordinate_type = int;
    static int get(const Point& point, orientation_2d axis) {
        return axis == HORIZONTAL ? point.x : point.y;
    }
};

template <>
struct geometry_concept<Edge> {
    using type = segment_concept;
};

template <>
struct segment_traits<Edge> {
    using coordinate_type = int;
    using point_type = Point;
    static Point get(const Edge& edge, direction_1d end) {
        return end.to_int() ? edge.b : edge.a;
    }
};

}  // namespace boost::polygon

int main(int argc, char** argv) {
    std::FILE* file = argc > 1 ? std::fopen(argv[1], "r") : nullptr;
    if (!file) {
        std::fprintf(stderr, "which file?\n");
        return 1;
    }
    std::vector<Edge> edges;
    for (Edge e; std::fscanf(file, "%d %d %d %d", &e.a.x, &e.a.y, &e.b.x, &e.b.y) == 4;) {
        edges.push_back(e);
    }
    std::fclose(file);
    const auto start = std::chrono::steady_clock::now();
    boost::polygon::voronoi_diagram<double> diagram;
    boost::polygon::construct_voronoi(edges.begin(), edges.end(), &diagram);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    if (diagram.num_cells() < edges.size()) {
        std::fprintf(stderr, "cells are missing\n");
        return 1;
    }
    std::printf("%.9f\n", took.count());
}
