// A program that does nothing, linked to what twoturn is linked to: what loading alone costs.
int main() { return 0; }
