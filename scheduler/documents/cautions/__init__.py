"""The cautions that go with work, and their texts."""
