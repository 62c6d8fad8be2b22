"""Planning: classes made of dances."""
